//! The rule files in the binary: what `build.rs` made of each says the same as its text.

#[allow(dead_code, reason = "the program uses more of it")]
#[path = "../../src/rules/built_in.rs"]
mod built_in;

/// Where the room of rules has it.
mod fault {
    pub(super) use boostwright::rules::FileText;
}

use boostwright::rules::written;
use boostwright::rules::yaml::read;
use built_in::files;
use written::File;

#[test]
fn each_file_says_the_same_as_json_and_as_yaml() {
    let mut looked_at = 0;
    for (file, json) in files(true) {
        let yaml: File = read(&file.text).expect(&file.name);
        assert_eq!(json, Some(yaml), "{}", file.name);
        looked_at += 1;
    }
    assert!(looked_at > 15, "only {looked_at} files");
}
