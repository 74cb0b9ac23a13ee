//! A page of HTML read strictly: every element is closed where it was opened, every attribute is
//! quoted. Less than HTML allows, so that what passes is read alike by everybody.

use std::collections::HashSet;

/// Elements without an end tag (HTML Standard, 13.1.2, "void elements").
const VOID: [&str; 4] = ["meta", "input", "br", "hr"];

#[derive(Debug, Default)]
pub(crate) struct Element {
    pub(crate) name: String,
    attributes: Vec<(String, String)>,
    children: Vec<Node>,
}

#[derive(Debug)]
enum Node {
    Element(Element),
    Text(String),
}

/// Reads a whole page.
pub(crate) fn read(page: &str) -> Element {
    let rest = page.strip_prefix("<!DOCTYPE html>").expect("the page says that it is HTML");
    let mut open = vec![Element::default()];
    let mut rest = rest.trim_end();
    while !rest.is_empty() {
        let Some(behind) = rest.strip_prefix('<') else {
            let end = rest.find('<').unwrap_or(rest.len());
            open.last_mut().unwrap().children.push(Node::Text(unescaped(&rest[..end])));
            rest = &rest[end..];
            continue;
        };
        let end = behind.find('>').expect("a tag ends");
        let tag = &behind[..end];
        rest = &behind[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            let closed = open.pop().unwrap();
            assert_eq!(closed.name, name, "the wrong element is closed");
            open.last_mut().expect("nothing is open").children.push(Node::Element(closed));
            continue;
        }
        let element = begun(tag.trim_end_matches('/'));
        if tag.ends_with('/') || VOID.contains(&element.name.as_str()) {
            open.last_mut().unwrap().children.push(Node::Element(element));
            continue;
        }
        if element.name == "style" {
            let end = rest.find("</style>").unwrap();
            let style = Node::Text(rest[..end].to_owned());
            open.push(Element { children: vec![style], ..element });
            rest = &rest[end..];
            continue;
        }
        open.push(element);
    }
    assert_eq!(open.len(), 1, "{} is never closed", open.last().unwrap().name);
    open.pop().unwrap()
}

fn begun(tag: &str) -> Element {
    let (name, mut rest) = tag.split_once([' ', '\n']).unwrap_or((tag, ""));
    let mut attributes = Vec::new();
    rest = rest.trim();
    while !rest.is_empty() {
        let (key, behind) = rest.split_once("=\"").unwrap_or_else(|| panic!("unquoted: {tag}"));
        let (value, behind) = behind.split_once('"').unwrap_or_else(|| panic!("unquoted: {tag}"));
        attributes.push((key.to_owned(), unescaped(value)));
        rest = behind.trim_start();
    }
    Element { name: name.to_owned(), attributes, children: Vec::new() }
}

fn unescaped(text: &str) -> String {
    let named = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&apos;", "'"), ("&amp;", "&")];
    named.iter().fold(text.to_owned(), |text, (from, to)| text.replace(from, to))
}

impl Element {
    pub(crate) fn attribute(&self, key: &str) -> Option<&str> {
        self.attributes.iter().find(|(own, _)| own == key).map(|(_, value)| value.as_str())
    }

    fn elements(&self) -> impl Iterator<Item = &Self> {
        self.children.iter().filter_map(|child| match child {
            Node::Element(element) => Some(element),
            Node::Text(_) => None,
        })
    }

    /// Every element below, in order.
    pub(crate) fn all(&self) -> Vec<&Self> {
        let mut found = Vec::new();
        for child in self.elements() {
            found.push(child);
            found.extend(child.all());
        }
        found
    }

    pub(crate) fn named(&self, name: &str) -> Vec<&Self> {
        self.all().into_iter().filter(|element| element.name == name).collect()
    }

    /// All words below, without those of styles.
    pub(crate) fn text(&self) -> String {
        self.words(&["style"]).split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// The words that show before anything is unfolded, a line each.
    pub(crate) fn unfolded(&self) -> String {
        let mut lines = Vec::new();
        self.lines(&mut lines);
        lines.join("\n")
    }

    fn words(&self, without: &[&str]) -> String {
        let words = |child: &Node| match child {
            Node::Text(text) => text.clone(),
            Node::Element(element) if without.contains(&element.name.as_str()) => String::new(),
            Node::Element(element) => element.words(without),
        };
        self.children.iter().map(words).collect()
    }

    fn lines(&self, lines: &mut Vec<String>) {
        const LINES: [&str; 10] =
            ["h1", "h2", "p", "dt", "dd", "li", "tr", "summary", "figcaption", "title"];
        for child in self.elements() {
            let name = child.name.as_str();
            match name {
                "style" | "svg" => {}
                "details" => child.named("summary").first().unwrap().lines_of_itself(lines),
                "li" if !child.named("dl").is_empty() => {
                    lines.push(format!("* {}", own_words(child)));
                    child.lines(lines);
                }
                "h1" | "h2" => lines.push(format!("\n# {}", child.text())),
                "tr" => {
                    let cells: Vec<String> = child.elements().map(Self::text).collect();
                    lines.push(cells.join(" | "));
                }
                "li" => lines.push(format!("* {}", child.text())),
                "dd" => lines.push(format!("    {}", child.text())),
                name if LINES.contains(&name) => lines.push(child.text()),
                _ => child.lines(lines),
            }
        }
    }

    fn lines_of_itself(&self, lines: &mut Vec<String>) {
        lines.push(format!("\n# {} (folded)", self.text()));
    }
}

/// The words of an item without the list below it.
fn own_words(item: &Element) -> String {
    item.words(&["dl"]).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What keeps a reader of screens from finding the way about, after WCAG 2.2 (1.1.1, 1.3.1, 2.4.1,
/// 2.4.2, 2.4.6, 3.1.1, 4.1.2) and the HTML Standard; nothing where all is well.
pub(crate) fn faults(page: &Element) -> Vec<String> {
    let mut found = Vec::new();
    whole(page, &mut found);
    headings(page, &mut found);
    names(page, &mut found);
    labels(page, &mut found);
    folds(page, &mut found);
    found
}

fn say(found: &mut Vec<String>, sound: bool, what: impl Into<String>) {
    if !sound {
        found.push(what.into());
    }
}

fn whole(page: &Element, found: &mut Vec<String>) {
    let roots: Vec<&Element> = page.elements().collect();
    let is_whole = roots.len() == 1 && roots[0].attribute("lang") == Some("en");
    say(found, is_whole, "one html element with its language");
    // A picture has a title of its own.
    let of_pictures = page.named("svg").iter().map(|svg| svg.named("title").len()).sum::<usize>();
    let titles = page.named("title");
    say(found, titles.len() == 1 + of_pictures && !titles[0].text().is_empty(), "one title");
    let body = page.named("body");
    let landmarks: Vec<&str> = body[0].elements().map(|child| child.name.as_str()).collect();
    say(found, landmarks == ["header", "main", "footer"], format!("landmarks: {landmarks:?}"));
    let navigation = page.named("nav");
    say(found, navigation.len() == 1, "one list of contents");
}

fn headings(page: &Element, found: &mut Vec<String>) {
    let levels: Vec<(u32, &Element)> = page
        .all()
        .into_iter()
        .filter_map(|element| {
            let level = element.name.strip_prefix('h')?.parse().ok()?;
            Some((level, element))
        })
        .collect();
    say(found, levels.first().is_some_and(|(level, _)| *level == 1), "the first heading is h1");
    say(found, levels.iter().filter(|(level, _)| *level == 1).count() == 1, "one h1");
    let steps = levels.windows(2).all(|pair| pair[1].0 <= pair[0].0 + 1);
    say(found, steps, "no level of heading is skipped");
    for (_, heading) in levels {
        say(found, !heading.text().is_empty(), "a heading without words");
    }
}

fn names(page: &Element, found: &mut Vec<String>) {
    let all = page.all();
    let ids: Vec<&str> = all.iter().filter_map(|element| element.attribute("id")).collect();
    let known: HashSet<&str> = ids.iter().copied().collect();
    say(found, known.len() == ids.len(), format!("an id stands twice: {ids:?}"));
    for element in &all {
        if let Some(href) = element.attribute("href") {
            let is_there = href.strip_prefix('#').is_some_and(|id| known.contains(id));
            say(found, is_there, format!("a link leads nowhere: {href}"));
        }
        if let Some(label) = element.attribute("aria-labelledby") {
            // Several ids in one attribute name it together (WAI-ARIA 1.2).
            let is_known = label.split_whitespace().all(|one| known.contains(one));
            say(found, is_known, format!("no such label: {label}"));
        }
    }
    let behind = page.named("details").len();
    let links = page.named("a").len();
    say(found, links >= behind, format!("{links} links to {behind} folded sections and more"));
}

fn labels(page: &Element, found: &mut Vec<String>) {
    let labelled = |element: &Element| {
        let own = element.attribute("aria-label").is_some_and(|label| !label.trim().is_empty());
        own || element.attribute("aria-labelledby").is_some()
    };
    for element in page.all() {
        let name = element.name.as_str();
        let needs = matches!(name, "section" | "nav") || element.attribute("role").is_some();
        say(found, !needs || labelled(element), format!("{name} without a label"));
        if name == "th" {
            say(found, element.attribute("scope").is_some(), "th without its scope");
        }
    }
    let inputs = page.named("input").len();
    let within: Vec<&Element> =
        page.named("label").into_iter().filter(|label| !label.text().is_empty()).collect();
    let within: usize = within.iter().map(|label| label.named("input").len()).sum();
    say(found, inputs == within, format!("{within} of {inputs} boxes have a label"));
    let plots = page.named("svg").len();
    let all = page.all();
    let pictures = all.iter().filter(|element| element.attribute("role") == Some("img")).count();
    say(found, plots == pictures, format!("{pictures} of {plots} plots have a label"));
    let scrolled = all.iter().filter(|element| element.attribute("role") == Some("region"));
    let by_keys = scrolled.filter(|element| element.attribute("tabindex") == Some("0")).count();
    let tables = page.named("table").len();
    say(found, tables == by_keys, format!("{by_keys} of {tables} tables can be moved by keys"));
}

/// What can hurt is never folded away, and what is folded says what it is.
fn folds(page: &Element, found: &mut Vec<String>) {
    for folded in page.named("details") {
        let first = folded.elements().next();
        let told = first.is_some_and(|first| first.name == "summary" && !first.text().is_empty());
        say(found, told, "something is folded without a word");
        let classes = folded.all();
        let hurts = classes
            .iter()
            .filter_map(|element| element.attribute("class"))
            .any(|class| class.contains("warning"));
        say(found, !hurts, "a warning is folded away");
    }
}

/// The test itself sees what is wrong.
#[test]
fn a_page_with_faults_is_seen_through() {
    let page = |body: &str| {
        format!("<!DOCTYPE html><html lang=\"en\"><title>T</title><body>{body}</body></html>")
    };
    let frame = |main: &str| {
        page(&format!(
            "<header><h1>T</h1></header><main><nav aria-labelledby=\"c\"><h2 id=\"c\">C</h2></nav>\
             {main}</main><footer></footer>"
        ))
    };
    assert_eq!(faults(&read(&frame(""))), [""; 0]);
    let wrong = [
        "<h4>skipped</h4>",
        "<h2 id=\"c\">twice</h2>",
        "<section><h2>no label</h2></section>",
        "<a href=\"#nowhere\">lost</a>",
        "<a href=\"https://example.org\">away</a>",
        "<input type=\"checkbox\">",
        "<table><tr><th>no scope</th></tr></table>",
        "<details><summary>S</summary><p class=\"warning\">hidden</p></details>",
        "<details><p>unsaid</p></details>",
        "<svg></svg>",
        "<h1>another</h1>",
    ];
    for main in wrong {
        assert!(!faults(&read(&frame(main))).is_empty(), "{main}");
    }
    assert!(!faults(&read(&page("<main></main>"))).is_empty());
}

#[test]
#[should_panic(expected = "the wrong element is closed")]
fn an_element_closed_in_the_wrong_place_is_refused() {
    read("<!DOCTYPE html><p><b></p></b>");
}
