//! The main job with the keyboard alone.

use crate::bench::Bench;
use crate::driver::{Browser, Setup};
use fantoccini::key::Key;

#[tokio::test]
async fn the_main_job_by_keyboard_alone() {
    let bench = Bench::start();
    let browser = Browser::open(Setup::DESK).await;
    let enter: char = Key::Enter.into();
    browser.goto(&bench.at("/boxes")).await;
    browser.tab_to("a[href='/boxes/new']").await;
    browser.key(enter).await;
    browser.tab_to("a[href='/boxes/new?way=size']").await;
    browser.key(enter).await;
    browser.find("#length").await;
    for (field, typed) in
        [("name", "Keys"), ("length", "240"), ("depth", "5 in"), ("height", "75"), ("wood", "cherry")]
    {
        browser.tab_to(&format!("#{field}")).await;
        browser.keys(typed).await;
    }
    browser.tab_to("main form button.main").await;
    browser.key(enter).await;
    browser.until("the box is there", "return document.querySelector('h1')?.innerText === 'Keys'").await;

    // The drawing turns by the arrows.
    browser.until("the drawing stands", "return !document.querySelector('[data-stage]').hidden").await;
    browser.tab_to("canvas").await;
    browser.key(Key::Left.into()).await;
    browser.key('+').await;

    // A thickness, kept with Enter.
    browser.tab_to("#shape details.edit summary").await;
    browser.key(enter).await;
    browser.tab_to("input[name='f:walls.thickness']").await;
    browser.keys("7/16 in").await;
    browser.key(enter).await;
    browser
        .until(
            "it is kept",
            "return document.querySelector('[data-version]').innerText.includes('version 2')",
        )
        .await;

    // Beside the saw: to the first card, a tick, the next card.
    browser.goto(&bench.at("/boxes/keys/saw/1")).await;
    browser.tab_to("article[data-card='1'] button.tick").await;
    browser.key(' ').await;
    browser
        .until(
            "it is ticked",
            "return document.querySelector(\"article[data-card='1'] button.tick\").getAttribute('aria-pressed') === 'true'",
        )
        .await;
    browser.tab_to("article[data-card='1'] a[rel='next']").await;
    browser.key(enter).await;
    browser.until("the next card", "return !document.querySelector(\"article[data-card='2']\").hidden").await;
    browser.close().await;
}
