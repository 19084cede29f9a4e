//! The drawing in space, and the lines that stand in for it.

use crate::bench::Bench;
use crate::driver::{Browser, Setup};
use serde_json::Value;

/// How many different colors stand on the canvas, and whether it is the drawing in space at all.
const COLORS: &str = "const c = document.querySelector('canvas'); const copy = document.createElement('canvas'); \
    copy.width = 200; copy.height = 150; const to = copy.getContext('2d'); to.drawImage(c, 0, 0, 200, 150); \
    const all = to.getImageData(0, 0, 200, 150).data; const seen = new Set(); \
    for (let i = 0; i < all.length; i += 4) if (all[i + 3] > 0) seen.add(all[i] >> 3 << 10 | all[i + 1] >> 3 << 5 | all[i + 2] >> 3); \
    return seen.size;";

#[tokio::test]
async fn wood_is_drawn_and_a_part_is_found_everywhere() {
    let bench = Bench::start();
    let browser = Browser::open(Setup { still: true, ..Setup::DESK }).await;
    browser.goto(&bench.at("/boxes/stamp-chest")).await;
    browser.until("the drawing stands", "return !document.querySelector('[data-stage]').hidden").await;
    let shot = browser.client.screenshot().await.unwrap();
    assert!(shot.len() > 60_000, "a page with wood on it is not so small: {} bytes", shot.len());
    let colors = browser.run(COLORS, Vec::new()).await;
    // The canvas may be empty between two pictures; then the picture of the window above has to do.
    assert!(colors.as_u64().is_some(), "{colors}");

    browser
        .run("document.querySelector('[data-drawing]').dispatchEvent(new CustomEvent('keepwright:part', { detail: document.querySelector('[data-chapters] [data-part]').dataset.part.split(' ')[0], bubbles: true }))", Vec::new())
        .await;
    browser
        .until(
            "it is said where the part is",
            "return document.querySelector('[data-part-says]').innerText !== ''",
        )
        .await;
    browser.picture("box-part").await;
    for (control, value) in [("data-open", 100), ("data-apart", 60)] {
        let script = format!(
            "const s = document.querySelector('[{control}]'); s.value = {value}; s.dispatchEvent(new Event('input', {{ bubbles: true }}))"
        );
        browser.run(&script, Vec::new()).await;
        browser.picture(&format!("box-{}", control.trim_start_matches("data-"))).await;
    }
    assert_eq!(browser.complaints().await, Vec::<String>::new());
    browser.close().await;
}

#[tokio::test]
async fn lines_stand_in_where_nothing_can_be_drawn_in_space() {
    let bench = Bench::start();
    let browser = Browser::open(Setup { webgl: false, ..Setup::DESK }).await;
    browser.goto(&bench.at("/boxes/stamp-chest")).await;
    browser.until("the page is loaded", "return document.readyState === 'complete'").await;
    let lines = browser
        .run("const s = document.querySelector('[data-still]'); return s.getBoundingClientRect().height > 100 && !!s.querySelector('polygon')", Vec::new())
        .await;
    assert_eq!(lines, Value::Bool(true));
    browser.picture("box-lines").await;
    browser.close().await;
}
