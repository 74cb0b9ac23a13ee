//! The pages of each recording as they are read: the first page, the sheet, and the words of the HTML
//! page down to what is folded away.

use super::recording::conclusions;
use crate::report::page::read;

#[test]
fn the_pages_of_each_recording() {
    for one in conclusions().iter().filter(|one| one.last) {
        let html = read(&one.html).unfolded();
        let pages =
            format!("{}\n\n%%%% sheet\n\n{}\n\n%%%% html\n\n{html}\n", one.screen, one.sheet);
        insta::with_settings!({ prepend_module_to_snapshot => false }, {
            insta::assert_snapshot!(format!("pages_of_{}", one.name), pages);
        });
    }
}
