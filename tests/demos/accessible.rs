//! Every page through an accessibility engine in a browser, both colour schemes, on a phone and on a desk:
//! axe-core (Deque Systems, Mozilla Public License) in Chromium. Neither comes with the project, so the test
//! runs only when asked for: `AXE_SCRIPT=axe.min.js cargo test --test suite accessible -- --ignored`.

use std::fs;
use std::path::Path;
use std::process::Command;

use super::recording::conclusions;

/// Reports to the page around the frame, which shows it in place of everything else.
const RUN: &str = "document.querySelectorAll('details').forEach(fold => fold.open = true);\
    axe.run().then(result => parent.postMessage(\
    result.violations.map(one => one.id + ' x ' + one.nodes.length).join(', '), '*'));";

#[test]
#[ignore = "needs axe-core and Chromium, see the head of this file"]
fn an_accessibility_engine_finds_nothing_on_any_page() {
    let script = std::env::var_os("AXE_SCRIPT").expect("AXE_SCRIPT names the engine's script");
    let engine = fs::read_to_string(script).unwrap();
    let folder = tempfile::tempdir().unwrap();
    for one in conclusions().iter().filter(|one| one.last) {
        for (scheme, name) in [("1", "light"), ("0", "dark")] {
            for width in [360, 1280] {
                let found = found(folder.path(), &one.html, &engine, scheme, width);
                assert_eq!(found, "", "{} in {name}, {width} px wide", one.name);
            }
        }
    }
}

/// What the engine says of a page in a frame so wide.
fn found(folder: &Path, html: &str, engine: &str, scheme: &str, width: u32) -> String {
    let with_engine = format!("<script>{engine}</script><script>{RUN}</script></body>");
    fs::write(folder.join("page.html"), html.replace("</body>", &with_engine)).unwrap();
    let around = format!(
        "<!doctype html><html lang=\"en\"><title>frame</title><body>\
         <iframe src=\"page.html\" style=\"width:{width}px;height:800px\"></iframe>\
         <script>onmessage = told => document.body.innerHTML = '<pre>found:' + told.data + '</pre>'\
         </script></body></html>"
    );
    let page = folder.join("around.html");
    fs::write(&page, around).unwrap();
    let shown = Command::new("chromium")
        .args(["--headless=old", "--no-sandbox", "--disable-gpu", "--dump-dom"])
        .args(["--window-size=1400,900", "--virtual-time-budget=20000"])
        .arg(format!("--blink-settings=preferredColorScheme={scheme}"))
        .arg(format!("file://{}", page.display()))
        .output()
        .unwrap();
    let shown = String::from_utf8_lossy(&shown.stdout).into_owned();
    let told = shown.split_once("<pre>found:").and_then(|(_, rest)| rest.split_once("</pre>"));
    told.unwrap_or_else(|| panic!("the engine said nothing: {shown:.400}")).0.to_owned()
}
