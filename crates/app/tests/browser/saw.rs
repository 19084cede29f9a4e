//! Beside the saw on a tablet: by touch, and without the network.

use crate::bench::Bench;
use crate::driver::{Browser, Setup};
use serde_json::json;

/// A finger on the middle of an element.
async fn touch(browser: &Browser, css: &str) {
    browser.find(css).await;
    let at = browser
        .run(
            "const e = document.querySelector(arguments[0]); e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2, r.width, r.height];",
            vec![json!(css)],
        )
        .await;
    let of = |i: usize| at.get(i).and_then(serde_json::Value::as_f64).unwrap_or_default();
    assert!(of(2) >= 44.0 && of(3) >= 44.0, "{css} is too small for a finger: {at}");
    let points = json!([{ "x": of(0), "y": of(1) }]);
    browser
        .protocol("Input.dispatchTouchEvent", json!({ "type": "touchStart", "touchPoints": points }))
        .await;
    browser.protocol("Input.dispatchTouchEvent", json!({ "type": "touchEnd", "touchPoints": [] })).await;
}

/// A finger drawn across the window.
async fn swipe(browser: &Browser, from: f64, to: f64) {
    let at = |x: f64| json!([{ "x": x, "y": 300.0 }]);
    browser
        .protocol("Input.dispatchTouchEvent", json!({ "type": "touchStart", "touchPoints": at(from) }))
        .await;
    for step in 1..=6 {
        let x = from + (to - from) * f64::from(step) / 6.0;
        browser
            .protocol("Input.dispatchTouchEvent", json!({ "type": "touchMove", "touchPoints": at(x) }))
            .await;
    }
    browser.protocol("Input.dispatchTouchEvent", json!({ "type": "touchEnd", "touchPoints": [] })).await;
}

async fn network(browser: &Browser, offline: bool) {
    browser.protocol("Network.enable", json!({})).await;
    let all = json!({ "offline": offline, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 });
    browser.protocol("Network.emulateNetworkConditions", all).await;
}

const FIRST: &str = "article[data-card='1'] button.tick";
const SECOND: &str = "article[data-card='2'] button.tick";

#[tokio::test]
async fn cards_by_touch_also_without_the_network() {
    let bench = Bench::start();
    let browser = Browser::open(Setup::TABLET).await;
    browser
        .protocol("Emulation.setTouchEmulationEnabled", json!({ "enabled": true, "maxTouchPoints": 5 }))
        .await;
    browser.goto(&bench.at("/boxes/stamp-chest/saw/1")).await;
    touch(&browser, FIRST).await;
    browser
        .until(
            "it is ticked",
            &format!("return document.querySelector(\"{FIRST}\").getAttribute('aria-pressed') === 'true'"),
        )
        .await;
    swipe(&browser, 900.0, 200.0).await;
    browser.until("the next card", "return !document.querySelector(\"article[data-card='2']\").hidden").await;
    swipe(&browser, 200.0, 900.0).await;
    browser.until("back again", "return !document.querySelector(\"article[data-card='1']\").hidden").await;
    browser.goto(&bench.at("/boxes/stamp-chest/saw/1")).await;
    browser
        .until(
            "it is still ticked",
            &format!("return document.querySelector(\"{FIRST}\").getAttribute('aria-pressed') === 'true'"),
        )
        .await;

    // A clock that runs is found again after a reload.
    let card = browser
        .run(
            "return document.querySelector('[data-timer]')?.closest('article')?.dataset.card ?? ''",
            Vec::new(),
        )
        .await;
    let card = card.as_str().unwrap_or_default().to_owned();
    browser.goto(&bench.at(&format!("/boxes/stamp-chest/saw/{card}"))).await;
    touch(&browser, &format!("article[data-card='{card}'] [data-timer] button")).await;
    browser.until("the clock runs", "return !document.querySelector('[data-running]').hidden").await;
    browser.goto(&bench.at("/boxes/stamp-chest/saw/2")).await;
    browser.until("it still runs", "return !document.querySelector('[data-running]').hidden").await;

    // Without the network the cards stay, and a tick is kept until it is back.
    browser.until("the cards are kept", "return navigator.serviceWorker.controller !== null").await;
    network(&browser, true).await;
    browser.goto(&bench.at("/boxes/stamp-chest/saw/2")).await;
    touch(&browser, SECOND).await;
    browser
        .until(
            "it is ticked",
            &format!("return document.querySelector(\"{SECOND}\").getAttribute('aria-pressed') === 'true'"),
        )
        .await;
    browser.until("it says so", "return !document.querySelector('[data-link]').hidden").await;
    browser.picture("saw-offline-tablet").await;
    network(&browser, false).await;
    browser.run("window.dispatchEvent(new Event('online'))", Vec::new()).await;
    browser.until("it is sent", "return document.querySelector('[data-link]').hidden").await;
    browser.close().await;

    // Another browser sees both.
    let other = Browser::open(Setup::DESK).await;
    other.goto(&bench.at("/boxes/stamp-chest/saw/2")).await;
    other
        .until(
            "seen elsewhere",
            &format!("return document.querySelector(\"{SECOND}\").getAttribute('aria-pressed') === 'true'"),
        )
        .await;
    other.close().await;
}
