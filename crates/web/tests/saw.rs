//! The cards beside the saw: what stands on them, how ticks come in and stand, what the worker is told to keep.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod common;

use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use common::{Answer, Asked, HOST, NOW, send};
use keepwright_store::{By, Kind, Saved, Time};

/// One card, cut out of a page.
fn card(page: &str, number: usize) -> &str {
    let from = page.find(&format!("id=\"card-{number}\"")).unwrap_or_else(|| panic!("no card {number}"));
    let rest = &page[from..];
    rest.split("</article>").next().unwrap()
}

/// The number of the first card with these words in its title.
fn titled(page: &str, title: &str) -> usize {
    let at =
        page.find(&format!("tabindex=\"-1\">{title}")).unwrap_or_else(|| panic!("no card is titled {title}"));
    let before = &page[..at];
    let id = &before[before.rfind("id=\"title-").unwrap() + 10..];
    id.split('"').next().unwrap().parse().unwrap()
}

/// What stands between two words.
fn between<'t>(text: &'t str, from: &str, to: &str) -> &'t str {
    text.split(from).nth(1).unwrap_or_else(|| panic!("no {from}")).split(to).next().unwrap()
}

/// The tokens of a card: key and plan.
fn keys(card: &str) -> (String, String) {
    (between(card, "data-key=\"", "\"").to_owned(), between(card, "data-plan=\"", "\"").to_owned())
}

/// Parts of a card with how they stand.
fn parts(card: &str) -> Vec<(String, bool)> {
    card.split("data-part=\"")
        .skip(1)
        .map(|p| (p.split('"').next().unwrap().to_owned(), p.contains("aria-pressed=\"true\"")))
        .collect()
}

async fn post_json(asked: &Asked, body: &str, more: &[(&str, &str)]) -> Answer {
    let mut request = Request::post("/ticks")
        .header(header::HOST, HOST)
        .header(header::COOKIE, &asked.cookie)
        .header(header::CONTENT_TYPE, "application/json")
        .header("x-forgery", &asked.forgery);
    for (name, value) in more {
        request = request.header(*name, *value);
    }
    send(&asked.app, request.body(Body::from(body.to_owned())).unwrap()).await
}

/// A press as the page's script sends it.
fn press((key, plan): &(String, String), part: &str, id: &str, on: bool, at: i64) -> String {
    format!(
        r#"{{"box":"tea-caddy","plan":"{plan}","setup":"{key}","part":"{part}","id":"{id}","on":{on},"at":{at}}}"#
    )
}

fn json(answer: &Answer) -> serde_json::Value {
    serde_json::from_slice(&answer.body).unwrap()
}

#[tokio::test]
async fn every_box_of_the_demo_has_its_cards_in_the_order_of_the_work() {
    let asked = Asked::demo().await;
    for slug in ["pencil-case", "ring-boxes", "seed-bowl", "sewing-box", "stamp-chest", "tea-caddy"] {
        let page = asked.get(&format!("/boxes/{slug}/saw")).await;
        assert_eq!(page.status, StatusCode::OK, "{slug}");
        let text = page.text();
        let cards = text.matches("<article").count();
        assert_eq!(cards, text.matches("data-state>").count(), "{slug}: the list names every card");
        assert!(text.contains(&format!("<b>{cards} of {cards}</b>")), "{slug}");
        let mut all: Vec<_> = (1..=cards).map(|n| keys(card(&text, n)).0).collect();
        all.sort();
        all.dedup();
        assert_eq!(all.len(), cards, "{slug}: each card has a key of its own");
        assert!(!text.contains("style="), "{slug}");
        let ids: Vec<&str> = text.split(" id=\"").skip(1).map(|i| i.split('"').next().unwrap()).collect();
        let mut once = ids.clone();
        once.sort_unstable();
        once.dedup();
        assert_eq!(once.len(), ids.len(), "{slug}: ids stand once");
    }
}

#[tokio::test]
async fn glue_comes_after_what_it_joins_and_before_what_cuts_the_whole() {
    let asked = Asked::demo().await;
    let page = asked.get("/boxes/stamp-chest/saw").await.text();
    let (strip, walls) =
        (titled(&page, "Miter straight from the strip"), titled(&page, "Glue-up: box, walls"));
    let (slots, keys) = (titled(&page, "Key slots in the cradle"), titled(&page, "Glue-up: box, keys"));
    let (cradle, trim) = (titled(&page, "Build the cradle"), titled(&page, "Trim flush"));
    let (shellac, oil) = (titled(&page, "Shellac, inside"), titled(&page, "Drying oil"));
    let order = [strip, shellac, walls, cradle, slots, keys, trim, oil];
    assert!(order.is_sorted(), "{order:?}");
}

#[tokio::test]
async fn a_set_up_s_card_says_all_that_is_set() {
    let asked = Asked::demo().await;
    let page = asked.get("/boxes/stamp-chest/saw").await.text();
    let strip = card(&page, titled(&page, "Miter straight from the strip"));
    for words in [
        "table saw, flat-top blade, kerf",
        "<dt>stop to blade</dt>",
        "<dt>another stop at</dt>",
        "<dt>blade height</dt>",
        "<dt>tilt</dt><dd><b>45°</b>",
        "<dt>gauge</dt>",
        "<dt>First</dt><dd>a test piece",
        "<dt>Work lies</dt>",
        "<dt>Held by</dt>",
        "<dt>The offcut</dt><dd>falls free on the left",
        "<dt>Turning</dt>",
        "role=\"img\"",
    ] {
        assert!(strip.contains(words), "{words}\n{strip}");
    }
    let parts: Vec<String> = parts(strip).into_iter().map(|(p, _)| p).collect();
    assert_eq!(parts.first().map(String::as_str), Some("test piece, measured"));
    assert!(parts.iter().any(|p| p == "front, start end"), "{parts:?}");
    let glue = card(&page, titled(&page, "Glue-up: box, walls"));
    for timer in
        ["data-timer=\"open\"", "data-timer=\"clamp\"", "data-timer=\"cure\"", "data-seconds=\"86400\""]
    {
        assert!(glue.contains(timer), "{timer}");
    }
}

#[tokio::test]
async fn a_card_of_its_own_shows_itself_and_leads_on() {
    let asked = Asked::demo().await;
    let page = asked.get("/boxes/tea-caddy/saw/2").await.text();
    let hidden = |n: usize| card(&page, n).split('>').next().unwrap().contains("hidden");
    assert!(hidden(1) && !hidden(2) && hidden(3));
    let second = card(&page, 2);
    assert!(second.contains("rel=\"prev\" href=\"/boxes/tea-caddy/saw/1\""));
    assert!(second.contains("rel=\"next\" href=\"/boxes/tea-caddy/saw/3\""));
    for wrong in ["0", "9999", "two", "-1", "18446744073709551616"] {
        let answer = asked.get(&format!("/boxes/tea-caddy/saw/{wrong}")).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{wrong}");
    }
    assert_eq!(asked.get("/boxes/no-such-box/saw").await.status, StatusCode::NOT_FOUND);
    assert_eq!(asked.get("/boxes/no-such-box/ticks").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_form_s_button_ticks_and_takes_it_away_again() {
    let asked = Asked::demo().await;
    let page = asked.get("/boxes/tea-caddy/saw/1").await.text();
    let (key, plan) = keys(card(&page, 1));
    let (part, on) = parts(card(&page, 1)).remove(0);
    assert!(!on);
    let fields = |tick: &str| {
        [
            ("box", "tea-caddy"),
            ("plan", &plan),
            ("setup", &key),
            ("tick", tick),
            ("card", "1"),
            ("shown", "1"),
        ]
        .map(|(n, v)| (n, v.to_owned()))
    };
    for (tick, want) in [(format!("on:{part}"), true), (format!("off:{part}"), false)] {
        let fields = fields(&tick);
        let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
        let answer = asked.post("/ticks", &fields).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text());
        assert_eq!(answer.header("location"), "/boxes/tea-caddy/saw/1");
        let page = asked.get("/boxes/tea-caddy/saw/1").await.text();
        assert_eq!(parts(card(&page, 1)).remove(0).1, want);
    }
    let wrong = asked
        .post(
            "/ticks",
            &[
                ("box", "tea-caddy"),
                ("plan", "p"),
                ("setup", "s"),
                ("tick", "both:x"),
                ("card", "1"),
                ("shown", "0"),
            ],
        )
        .await;
    assert_eq!(wrong.status, StatusCode::BAD_REQUEST);
}

#[tokio::test]
async fn presses_that_come_twice_or_late_or_from_a_wrong_clock_stand_as_they_were_pressed() {
    let asked = Asked::demo().await;
    let page = asked.get("/boxes/tea-caddy/saw").await.text();
    let of = keys(card(&page, 1));
    let part = parts(card(&page, 1)).remove(0).0;
    let stands = async || {
        let list = json(&asked.get("/boxes/tea-caddy/ticks").await);
        let found = list["ticks"].as_array().unwrap().iter().find(|t| t["part"] == part.as_str());
        found.map(|t| (t["on"].as_bool().unwrap(), t["at"].as_i64().unwrap()))
    };
    let one = format!("[{}]", press(&of, &part, "id-1", true, NOW + 10));
    for _ in 0..2 {
        let answer = post_json(&asked, &one, &[]).await;
        assert_eq!(answer.status, StatusCode::OK, "{}", answer.text());
        assert_eq!(json(&answer)["kept"], serde_json::json!(["id-1"]), "sent again it is still kept");
        assert_eq!(stands().await, Some((true, NOW + 10)));
    }
    // Pressed earlier, sent later: kept, but the later press counts, and the sender is told.
    let late = format!("[{}]", press(&of, &part, "id-2", false, NOW + 5));
    let answer = json(&post_json(&asked, &late, &[]).await);
    assert_eq!(answer["overruled"][0]["id"], "id-2");
    assert_eq!(answer["overruled"][0]["on"], true);
    assert_eq!(stands().await, Some((true, NOW + 10)));
    // On and off within one second, in one list: the order of the list counts.
    let both = format!(
        "[{},{}]",
        press(&of, &part, "id-3", true, NOW + 20),
        press(&of, &part, "id-4", false, NOW + 20)
    );
    let answer = json(&post_json(&asked, &both, &[]).await);
    assert_eq!(answer["overruled"], serde_json::json!([]));
    assert_eq!(stands().await, Some((false, NOW + 20)));
    // A tablet whose clock is a year ahead: nothing pressed there can overrule what is pressed tomorrow.
    let ahead =
        std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap().as_secs().cast_signed()
            + 31_536_000;
    let far = format!("[{}]", press(&of, &part, "id-5", true, ahead - 60));
    let clock = ahead.to_string();
    post_json(&asked, &far, &[("x-clock", &clock)]).await;
    let (on, at) = stands().await.unwrap();
    assert!(on && (ahead - 31_536_000 - at - 60).abs() <= 5, "{at}");
    let still = format!("[{}]", press(&of, &part, "id-6", false, ahead));
    post_json(&asked, &still, &[]).await;
    let (on, at) = stands().await.unwrap();
    assert!(!on && at <= ahead - 31_536_000 + 5, "a press is never later than now: {at}");
}

#[tokio::test]
async fn a_change_of_the_box_leaves_its_ticks_to_the_earlier_plan() {
    let asked = Asked::demo().await;
    let page = asked.get("/boxes/tea-caddy/saw").await.text();
    let number = titled(&page, "Miter");
    let (key, plan) = keys(card(&page, number));
    let part = parts(card(&page, number)).pop().unwrap().0;
    let ticked = format!("[{}]", press(&(key.clone(), plan.clone()), &part, "id-1", true, NOW));
    post_json(&asked, &ticked, &[]).await;
    let page = asked.get("/boxes/tea-caddy/saw").await.text();
    assert!(parts(card(&page, number)).contains(&(part.clone(), true)));
    let deck = json(&asked.get("/boxes/tea-caddy/ticks").await)["deck"].clone();
    assert_eq!(deck.as_str().unwrap(), between(&page, "data-deck=\"", "\""));

    // The box gets another length.
    let document = asked.store.document(Kind::Box, "tea-caddy").unwrap();
    let head = asked.store.head(document.id).unwrap();
    let length = between(&head.text, "length = \"", "\"").to_owned();
    let text = head.text.replacen(&length, "250 mm", 1);
    assert_ne!(text, head.text);
    let by = By::new("test", Time::seconds(NOW + 1));
    assert!(matches!(asked.store.save(document.id, head.id, &text, "length", by), Ok(Saved::Kept(_))));

    let page = asked.get("/boxes/tea-caddy/saw").await.text();
    let changed = card(&page, titled(&page, "Miter"));
    let (now_key, now_plan) = keys(changed);
    assert_eq!(now_key, key, "it is the same card");
    assert_ne!(now_plan, plan, "with other settings");
    assert!(parts(changed).iter().all(|(_, on)| !on), "nothing is ticked on it");
    assert!(changed.contains("ticked for an earlier plan of this card"), "{changed}");
    let deck_now = json(&asked.get("/boxes/tea-caddy/ticks").await)["deck"].clone();
    assert_ne!(deck, deck_now);

    // Back at the old length the cards are those of before, and so are their ticks.
    let head = asked.store.head(document.id).unwrap();
    let text = head.text.replacen("250 mm", &length, 1);
    let back = asked.store.save(document.id, head.id, &text, "back", by);
    assert!(matches!(back, Ok(Saved::Kept(_))));
    let page = asked.get("/boxes/tea-caddy/saw").await.text();
    assert!(
        parts(card(&page, number)).contains(&(part, true)),
        "the ticks of the old plan are its own again"
    );
}

#[tokio::test]
async fn what_is_no_tick_is_refused_with_its_reason() {
    let asked = Asked::demo().await;
    let of = ("k".to_owned(), "p".to_owned());
    for body in ["", "{}", "[1]", "[{\"box\":\"tea-caddy\"}]", "[[[["] {
        let answer = post_json(&asked, body, &[]).await;
        assert_eq!(answer.status, StatusCode::BAD_REQUEST, "{body}");
        assert!(answer.text().contains("no list of ticks"), "{body}");
    }
    let none = press(&of, "front", "id-1", true, NOW).replace("tea-caddy", "no-such-box");
    let long = press(&of, &"x".repeat(201), "id-2", true, NOW);
    let good = press(&of, "front", "id-3", true, NOW);
    let answer = json(&post_json(&asked, &format!("[{none},{long},{good}]"), &[]).await);
    assert_eq!(answer["kept"], serde_json::json!(["id-3"]));
    let refused = answer["refused"].to_string();
    assert!(
        refused.contains("no box called no-such-box") && refused.contains("`part` has 201 bytes"),
        "{refused}"
    );
    let many = format!("[{}]", vec![good.clone(); 2001].join(","));
    assert_eq!(post_json(&asked, &many, &[]).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let forged = Request::post("/ticks")
        .header(header::HOST, HOST)
        .header(header::COOKIE, &asked.cookie)
        .header(header::CONTENT_TYPE, "application/json")
        .body(Body::from(format!("[{good}]")))
        .unwrap();
    assert_eq!(send(&asked.app, forged).await.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn a_box_without_a_plan_says_why_and_where() {
    let asked = Asked::demo().await;
    let document = asked.store.document(Kind::Box, "tea-caddy").unwrap();
    let head = asked.store.head(document.id).unwrap();
    let by = By::new("test", Time::seconds(NOW + 1));
    asked
        .store
        .save(document.id, head.id, "keepwright = 1\nname = \"Tea\"\nwals = 3\n", "broken", by)
        .unwrap();
    let answer = asked.get("/boxes/tea-caddy/saw").await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text().contains("wals"), "{}", answer.text());
}

#[tokio::test]
async fn the_worker_is_told_its_version_and_the_files_of_the_cards() {
    let asked = Asked::demo().await;
    let answer = asked.get("/service-worker.js").await;
    assert_eq!(answer.status, StatusCode::OK);
    assert_eq!(answer.header("content-type"), "text/javascript; charset=utf-8");
    let text = answer.text();
    let head = text.lines().next().unwrap();
    let shell: serde_json::Value =
        serde_json::from_str(head.strip_prefix("const SHELL = ").unwrap().trim_end_matches(';')).unwrap();
    assert_eq!(shell["version"].as_str().unwrap().len(), 24);
    assert_eq!(answer.header("etag"), format!("\"{}\"", shell["version"].as_str().unwrap()));
    let files: Vec<&str> = shell["files"].as_array().unwrap().iter().map(|f| f.as_str().unwrap()).collect();
    let page = asked.get("/boxes/tea-caddy/saw").await.text();
    let used = page.split("\"/assets/").skip(1).map(|f| format!("/assets/{}", f.split('"').next().unwrap()));
    for file in used {
        assert!(files.contains(&file.as_str()), "{file} is on the page, so it must be kept");
    }
    assert!(
        files.iter().any(|f| f.rsplit_once('.').is_some_and(|n| n.1 == "woff2"))
            && files.contains(&"/assets/js/saw/clock.js")
    );
    for file in files {
        assert_eq!(asked.get(file).await.status, StatusCode::OK, "{file}");
    }
}
