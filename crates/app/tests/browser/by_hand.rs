//! The main job with the mouse.

use crate::bench::Bench;
use crate::driver::{Browser, Setup};

#[tokio::test]
async fn the_main_job_by_mouse() {
    let bench = Bench::start();
    let browser = Browser::open(Setup::DESK).await;

    // A box from a size.
    browser.goto(&bench.at("/")).await;
    browser.click("a[href='/boxes/new']").await;
    browser.click("a[href='/boxes/new?way=size']").await;
    for (field, typed) in [
        ("name", "Letters"),
        ("length", "9 1/2 in"),
        ("depth", "130"),
        ("height", "3 in"),
        ("wood", "cherry"),
    ] {
        browser.fill(&format!("#{field}"), typed).await;
    }
    browser.click("main form button.main").await;
    browser.until("the box is there", "return document.querySelector('h1')?.innerText === 'Letters'").await;

    // While a thickness is typed the numbers and the drawing follow; a half-typed one keeps the last good ones.
    browser.until("the drawing stands", "return !document.querySelector('[data-stage]').hidden").await;
    let before = browser.text("[data-computed='shape']").await;
    browser.click("#shape details.edit summary").await;
    browser
        .run(
            "window.scenes = 0; document.querySelector('[data-drawing]').addEventListener('keepwright:scene', () => window.scenes++)",
            Vec::new(),
        )
        .await;
    browser.fill("input[name='f:walls.thickness']", "1/2 in").await;
    browser.until("the drawing follows", "return window.scenes > 0").await;
    browser
        .until(
            "the numbers follow",
            "return document.querySelector(\"[data-computed='shape']\").innerText.includes('12.7')",
        )
        .await;
    assert_ne!(browser.text("[data-computed='shape']").await, before);
    browser.fill("input[name='f:walls.thickness']", "half").await;
    browser
        .until(
            "the field says what is wrong",
            "return document.querySelector(\"input[name='f:walls.thickness']\").getAttribute('aria-invalid') === 'true'",
        )
        .await;
    assert!(browser.text("[data-computed='shape']").await.contains("12.7"), "the last good numbers stay");
    browser.fill("input[name='f:walls.thickness']", "5/8 in\t").await;
    browser
        .until(
            "it is kept",
            "return document.querySelector('[data-version]').innerText.includes('version 2')",
        )
        .await;
    browser.click("[data-step='undo'] button").await;
    browser
        .until(
            "it is undone",
            "return document.querySelector(\"input[name='f:walls.thickness']\")?.value !== '5/8 in'",
        )
        .await;

    // A number says where it comes from.
    browser.click("#finish .say .why").await;
    browser.until("the reason is shown", "return !!document.querySelector('dialog[open]')").await;

    // One press cures a caution.
    browser.goto(&bench.at("/boxes/stamp-chest")).await;
    browser.click("form.change button").await;
    browser
        .until(
            "it is changed",
            "return document.querySelector('[data-version]').innerText.includes('version 2')",
        )
        .await;

    // The layout on real boards, accepted.
    browser.goto(&bench.at("/cutting")).await;
    browser.run("for (const b of document.querySelectorAll(\"input[name='box']\")) { if (b.checked !== (b.value === 'stamp-chest')) b.click(); }", Vec::new()).await;
    browser.click("input[name='seconds'][value='5']").await;
    browser.click("form[data-choose] button.main").await;
    browser.until("the run ends", "return !!document.querySelector(\"form[action$='/accept']\")").await;
    browser.click("form[action$='/accept'] button").await;
    browser.goto(&bench.at("/rack")).await;
    assert!(browser.text("main").await.contains("reserved"), "{}", browser.text("main").await);
    browser.close().await;
}
