//! The built-in rules, loaded once for all tests that only read them.

use std::sync::LazyLock;

use boostwright::rules::{Pack, PackSource, load};

static PACK: LazyLock<Pack> = LazyLock::new(|| {
    let loaded = load(&[PackSource::BuiltIn]).unwrap();
    assert!(!loaded.faults.any_error(), "{}", loaded.faults.draw(false).join("\n"));
    loaded.pack
});

pub(super) fn built_in() -> &'static Pack {
    &PACK
}
