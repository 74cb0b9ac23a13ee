//! How long functions and files may be: what is longer has more than one idea.
//!
//! A function may be longer than the bar where it is one match or one list: a table that reads from top
//! to bottom. So that no long function passes as one, every arm of it has to be short, and so has what
//! stands beside it.

use std::fs;
use std::path::PathBuf;

use proc_macro2::Span;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};

use crate::project::{root, rust_files};

const MAX_FILE_LINES: usize = 450;
const MAX_FUNCTION_LINES: usize = 60;
/// Nine of ten functions are no longer.
const MAX_LINES_OF_NINE_IN_TEN: usize = 25;
/// The longest arm of a match, or item of a list, that makes a table of a long function.
const MAX_ARM_LINES: usize = 12;
/// The most lines that such a function has beside its match or list.
const MAX_LINES_BESIDE: usize = 15;

struct Function {
    name: String,
    lines: usize,
    is_table: bool,
}

fn lines(part: &impl Spanned) -> usize {
    let span: Span = part.span();
    span.end().line - span.start().line + 1
}

/// The longest match or list whose arms are all short.
#[derive(Default)]
struct LongestTable {
    lines: usize,
}

impl LongestTable {
    fn see(&mut self, table: usize, mut arms: impl Iterator<Item = usize>) {
        if arms.all(|arm| arm <= MAX_ARM_LINES) {
            self.lines = self.lines.max(table);
        }
    }
}

impl<'ast> Visit<'ast> for LongestTable {
    fn visit_expr_match(&mut self, found: &'ast syn::ExprMatch) {
        self.see(lines(found), found.arms.iter().map(lines));
        visit::visit_expr_match(self, found);
    }

    fn visit_expr_array(&mut self, found: &'ast syn::ExprArray) {
        self.see(lines(found), found.elems.iter().map(lines));
        visit::visit_expr_array(self, found);
    }
}

/// Every function with a body.
#[derive(Default)]
struct Functions(Vec<Function>);

impl Functions {
    fn see(&mut self, signature: &syn::Signature, block: &syn::Block) {
        let lines = block.span().end().line - signature.span().start().line + 1;
        let mut table = LongestTable::default();
        table.visit_block(block);
        let is_table = table.lines > 0 && lines - table.lines <= MAX_LINES_BESIDE;
        self.0.push(Function { name: signature.ident.to_string(), lines, is_table });
    }
}

impl<'ast> Visit<'ast> for Functions {
    fn visit_item_fn(&mut self, found: &'ast syn::ItemFn) {
        self.see(&found.sig, &found.block);
        visit::visit_item_fn(self, found);
    }

    fn visit_impl_item_fn(&mut self, found: &'ast syn::ImplItemFn) {
        self.see(&found.sig, &found.block);
        visit::visit_impl_item_fn(self, found);
    }

    fn visit_trait_item_fn(&mut self, found: &'ast syn::TraitItemFn) {
        if let Some(block) = &found.default {
            self.see(&found.sig, block);
        }
        visit::visit_trait_item_fn(self, found);
    }
}

fn functions(text: &str) -> Vec<Function> {
    let mut functions = Functions::default();
    functions.visit_file(&syn::parse_file(text).unwrap());
    functions.0
}

fn too_long(text: &str) -> Vec<String> {
    let long = functions(text)
        .into_iter()
        .filter(|function| function.lines > MAX_FUNCTION_LINES && !function.is_table);
    long.map(|function| format!("{}: {} lines", function.name, function.lines)).collect()
}

fn files(folder: &str) -> Vec<(PathBuf, String)> {
    let files: Vec<(PathBuf, String)> = rust_files(&root().join(folder))
        .into_iter()
        .map(|file| {
            (file.strip_prefix(root()).unwrap().to_owned(), fs::read_to_string(&file).unwrap())
        })
        .collect();
    assert!(files.len() > 50, "only {} files below {folder}", files.len());
    files
}

#[test]
fn no_file_is_too_long() {
    let files = files("src").into_iter().chain(files("tests"));
    let long: Vec<(PathBuf, usize)> = files
        .map(|(path, text)| (path, text.lines().count()))
        .filter(|(_, lines)| *lines > MAX_FILE_LINES)
        .collect();
    assert!(long.is_empty(), "over {MAX_FILE_LINES} lines: {long:#?}");
}

#[test]
fn no_function_is_too_long_but_for_tables() {
    let long: Vec<(PathBuf, Vec<String>)> = files("src")
        .into_iter()
        .map(|(path, text)| (path, too_long(&text)))
        .filter(|(_, long)| !long.is_empty())
        .collect();
    assert!(long.is_empty(), "over {MAX_FUNCTION_LINES} lines: {long:#?}");
}

#[test]
fn nine_of_ten_functions_are_short() {
    let mut all: Vec<usize> = files("src")
        .iter()
        .flat_map(|(_, text)| functions(text))
        .map(|function| function.lines)
        .collect();
    all.sort_unstable();
    assert!(all.len() > 1000, "only {} functions", all.len());
    let ninth = all[all.len() * 9 / 10];
    assert!(ninth <= MAX_LINES_OF_NINE_IN_TEN, "one function in ten has {ninth} lines or more");
}

#[test]
fn a_long_function_is_told_from_a_table() {
    let function = |body: &str| format!("impl X {{\n    fn long() {{\n{body}    }}\n}}\n");
    let statements = "work();\n".repeat(MAX_FUNCTION_LINES);
    assert_eq!(
        too_long(&function(&statements)),
        [format!("long: {} lines", MAX_FUNCTION_LINES + 2)]
    );
    assert!(too_long(&function(&"work();\n".repeat(MAX_FUNCTION_LINES - 2))).is_empty());
    let arms = "1 => 2,\n".repeat(MAX_FUNCTION_LINES);
    assert!(too_long(&function(&format!("match x {{\n{arms}}}\n"))).is_empty());
    let items = "1,\n".repeat(MAX_FUNCTION_LINES);
    assert!(too_long(&function(&format!("let all = [\n{items}];\n"))).is_empty());
    let beside = "work();\n".repeat(MAX_LINES_BESIDE);
    assert_eq!(too_long(&function(&format!("{beside}match x {{\n{arms}}}\n"))).len(), 1);
    let long_arm =
        format!("match x {{\n{arms}_ => {{\n{}}}\n}}\n", "work();\n".repeat(MAX_ARM_LINES));
    assert_eq!(too_long(&function(&long_arm)).len(), 1);
    assert!(too_long("trait T {\n    fn none();\n}\n").is_empty());
}
