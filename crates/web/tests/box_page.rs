//! The page of a box: chapters, numbers that can be asked, drawings, and a statement with problems.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise in the page it reads")]

mod common;

use axum::http::StatusCode;
use common::{Asked, NOW};
use keepwright_model::cutting::NeverStop;
use keepwright_model::design::{Defaults, read_rack, read_shop, read_statement};
use keepwright_model::job::{Order, Plan, Shop, plan, rack_from};
use keepwright_model::saw::Effort;
use keepwright_model::wood;
use keepwright_store::{By, Kind, Saved, Time};
use keepwright_web::demo;

const CHAPTERS: [&str; 10] = [
    "Shape",
    "Woods",
    "Boards",
    "At the saw",
    "Joints",
    "Seasons",
    "Glue",
    "Finish",
    "Money and time",
    "Packet",
];

fn by() -> By<'static> {
    By { who: "test", at: Time::seconds(NOW) }
}

/// The plan that the page of a demo box rests on, made from the files.
fn planned(text: &str) -> Plan {
    let file = read_shop(demo::SHOP, &Defaults::default()).unwrap();
    let shop = Shop::from_file(&file).unwrap();
    let rack = read_rack(demo::RACK, &Defaults::default(), file.shop.currency, &wood::named).unwrap();
    let statement = read_statement(text, &Defaults { length_unit: shop.unit }, &wood::named).unwrap();
    let rack = rack_from(&rack);
    let order =
        Order { statement: &statement, rack: Some(&rack), shop: &shop, when: None, effort: Effort::Fast };
    plan(&order, &mut NeverStop).unwrap()
}

/// The text between two marks, from the first of the first.
fn between<'t>(text: &'t str, from: &str, to: &str) -> &'t str {
    let rest = text.split_once(from).unwrap_or_else(|| panic!("{from} is missing")).1;
    rest.split_once(to).map_or(rest, |(found, _)| found)
}

/// Every value of an attribute.
fn values(html: &str, attribute: &str) -> Vec<String> {
    let mark = format!(" {attribute}=\"");
    html.split(mark.as_str()).skip(1).filter_map(|rest| rest.split('"').next()).map(str::to_owned).collect()
}

#[tokio::test]
async fn every_demo_box_has_its_chapters_in_the_order_of_the_work() {
    let asked = Asked::demo().await;
    for (slug, _) in demo::BOXES {
        let page = asked.get(&format!("/boxes/{slug}")).await;
        assert_eq!(page.status, StatusCode::OK, "{slug}");
        let html = page.text();
        let mut rest = html.as_str();
        for title in CHAPTERS {
            let at =
                rest.find(&format!("-title\">{title}</h2>")).unwrap_or_else(|| panic!("{slug}: {title}"));
            rest = &rest[at..];
            assert!(
                between(rest, "<p class=\"say\">", "</p>").len() > 40,
                "{slug}: {title} opens with no sentence"
            );
        }
        // The policy forbids both, and a drawing in line must not bring them in.
        assert!(!html.contains(" style=") && !html.contains("<style") && !html.contains("onclick"), "{slug}");
        let mut ids = values(&html, "id");
        let all = ids.len();
        ids.sort();
        ids.dedup();
        assert_eq!(ids.len(), all, "{slug}: an id stands twice");
    }
}

/// No heading skips a level, in the order in which they stand.
#[tokio::test]
async fn headings_go_down_one_level_at_a_time() {
    let asked = Asked::demo().await;
    for (slug, _) in demo::BOXES {
        let html = asked.get(&format!("/boxes/{slug}")).await.text();
        let mut last = 0;
        for rest in html.split("<h").skip(1) {
            let Some(level) = rest.chars().next().and_then(|c| c.to_digit(10)) else { continue };
            assert!(level <= last + 1, "{slug}: h{level} after h{last}: {}", rest.get(..60).unwrap_or(rest));
            last = level;
        }
        assert!(last > 0);
    }
}

/// Every reason of the plan can be reached from the page, and its address answers with formula, values and source.
#[tokio::test]
async fn every_number_that_can_be_explained_is_linked() {
    let asked = Asked::demo().await;
    for (slug, text) in demo::BOXES {
        let html = asked.get(&format!("/boxes/{slug}")).await.text();
        for reason in planned(text).reasons {
            let key = reason.key.replace(' ', "%20");
            assert!(html.contains(&format!("/boxes/{slug}/why/{key}?v=")), "{slug}: {key}");
        }
    }
    let html = asked.get("/boxes/stamp-chest").await.text();
    let address = values(&html, "href").into_iter().find(|h| h.contains("/why/run.length")).unwrap();
    let part = asked.get(&format!("{address}&part=1")).await;
    let (part, page) = (part.text(), asked.get(&address).await.text());
    let plan = planned(demo::BOXES[4].1);
    let reason = plan.reason("run.length").unwrap();
    for said in [reason.formula.as_str(), reason.given[0].name.as_str(), "Source:"] {
        assert!(part.contains(said) && page.contains(said), "{said}");
    }
    assert!(!part.contains("<html") && page.contains("<h1>"), "{part}");
    assert_eq!(asked.get("/boxes/stamp-chest/why/no.such").await.status, StatusCode::NOT_FOUND);
}

/// Every drawing that the page names is there, and is a drawing.
#[tokio::test]
async fn every_drawing_is_drawn() {
    let asked = Asked::demo().await;
    let html = asked.get("/boxes/pencil-case").await.text();
    let sources: Vec<String> = values(&html, "src").into_iter().filter(|s| s.contains("/figure/")).collect();
    assert!(sources.len() > 5, "{sources:?}");
    for source in sources {
        let answer = asked.get(&source).await;
        assert_eq!(answer.status, StatusCode::OK, "{source}");
        assert_eq!(answer.header("content-type"), "image/svg+xml");
        assert!(answer.header("content-security-policy").contains("sandbox"), "{source}");
        assert!(answer.text().contains("<svg"), "{source}");
    }
    for missing in ["figure/board-99.svg", "figure/setup-0.svg", "figure/board-1", "figure/x.svg"] {
        assert_eq!(
            asked.get(&format!("/boxes/pencil-case/{missing}")).await.status,
            StatusCode::NOT_FOUND,
            "{missing}"
        );
    }
    // A version of another box is not shown under this one's address.
    let other = asked.store.document(Kind::Box, "stamp-chest").unwrap().head.get();
    let stolen = asked.get(&format!("/boxes/pencil-case/figure/views.svg?v={other}")).await;
    assert_eq!(stolen.status, StatusCode::NOT_FOUND);
}

/// A caution with a change in the statement offers it as a form that posts without script.
#[tokio::test]
async fn a_caution_offers_its_change() {
    let asked = Asked::demo().await;
    let document = asked.store.document(Kind::Box, "stamp-chest").unwrap();
    // A solid bottom glued across the grain of its walls: the cure is in the statement.
    let floating = "hold = \"groove\"\nthickness = 8\ndepth = 5\nabove_edge = 6\ntongue = 4\n";
    let text = demo::BOXES[4].1.replace(floating, "hold = \"rabbet\"\nthickness = 8\ndepth = 5\n");
    assert_ne!(text, demo::BOXES[4].1, "the demo has changed");
    let head = match asked.store.save(document.id, document.head, &text, "test", by()).unwrap() {
        Saved::Kept(version) => version,
        other => panic!("{other:?}"),
    };
    let html = asked.get("/boxes/stamp-chest").await.text();
    let want = planned(&text).cautions;
    let offered: Vec<_> =
        want.iter().filter_map(|c| c.change.as_ref()).filter(|c| !c.sets.is_empty()).collect();
    assert!(!offered.is_empty());
    for change in offered {
        let form = html.split("<form class=\"change\"").find(|f| f.contains(&html_of(&change.says))).unwrap();
        assert!(form.contains(&format!("name=\"base\" value=\"{}\"", head.id)), "{form}");
        for set in &change.sets {
            let value = html_of(&format!("{} = {}", set.key, set.value));
            assert!(form.contains(&format!("name=\"set\" value=\"{value}\"")), "{value} in {form}");
        }
    }
}

/// As the templates write text in an attribute.
fn html_of(text: &str) -> String {
    text.trim_end_matches('.')
        .replace('&', "&#38;")
        .replace('<', "&#60;")
        .replace('"', "&#34;")
        .replace('\'', "&#39;")
}

/// Half-typed text is kept and told, and the last version that could be planned stands beside it.
#[tokio::test]
async fn a_statement_with_problems_still_opens() {
    let asked = Asked::demo().await;
    let document = asked.store.document(Kind::Box, "tea-caddy").unwrap();
    let text = demo::BOXES[5].1.replace("[walls]", "[walls]\nthicknes = \"<i>7</i>\"");
    asked.store.save(document.id, document.head, &text, "half-typed", by()).unwrap();
    let page = asked.get("/boxes/tea-caddy").await;
    assert_eq!(page.status, StatusCode::OK);
    let html = page.text();
    let line = text.lines().position(|l| l.starts_with("thicknes ")).unwrap() + 1;
    assert!(
        html.contains(&format!("Line {line}, column 1")),
        "{}",
        between(&html, "<section class=\"problems\"", "</section>")
    );
    assert!(html.contains("What follows is version 1") && !html.contains("<i>7</i>"));
    // The last good version is drawn, and offers no change: it is not in force.
    assert!(html.contains("id=\"shape-title\"") && html.contains("<p class=\"say\">The box is"));
    assert!(!html.contains("class=\"change\""));
    // A box that never could be planned opens too.
    asked.store.create(Kind::Box, "Nothing yet", "keepwright = 1\n", "test", by()).unwrap();
    let page = asked.get("/boxes/nothing-yet").await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text().contains("No version of this box could be planned yet"));
    assert_eq!(asked.get("/boxes/no-such-box").await.status, StatusCode::NOT_FOUND);
}

/// Names of makers are words, whatever they are.
#[tokio::test]
async fn a_hostile_name_stays_a_name() {
    let asked = Asked::demo().await;
    let bad = "<script>alert(1)</script>";
    let text = demo::BOXES[3]
        .1
        .replace("thread spools", bad)
        .replace("wool felt", bad)
        .replace("\"Sewing box\"", &format!("\"{bad}\""));
    asked.store.create(Kind::Box, bad, &text, bad, by()).unwrap();
    let document = asked.store.documents(Kind::Box, keepwright_store::Shelf::Kept).unwrap();
    let slug = &document.iter().find(|d| d.name == bad).unwrap().slug;
    asked.store.set_customer(document.iter().find(|d| d.name == bad).unwrap().id, bad, by()).unwrap();
    let html = asked.get(&format!("/boxes/{slug}")).await.text();
    assert!(
        !html.contains(bad) && html.contains("script&#62;alert") && html.contains("&lt;script&gt;"),
        "{slug}"
    );
}

/// Parts are marked wherever they are named, and only by ids that the part list has.
#[tokio::test]
async fn parts_are_named_alike_in_all_chapters() {
    let asked = Asked::demo().await;
    let html = asked.get("/boxes/stamp-chest").await.text();
    for chapter in ["shape", "boards", "saw", "seasons"] {
        let section = between(&html, &format!("data-computed=\"{chapter}\""), "data-computed=");
        assert!(
            section.contains("data-part=\"front\"") || section.contains("data-part=\"front "),
            "{chapter} names no front"
        );
    }
    let known: Vec<String> =
        planned(demo::BOXES[4].1).parts.parts.iter().map(|p| p.name.replace(' ', "-")).collect();
    for ids in values(&html, "data-part") {
        for id in ids.split(' ') {
            assert!(known.iter().any(|k| k == id), "{id} is no part");
        }
    }
}

/// The drawing's own addresses: the box in space, and in lines from where it is looked at.
#[tokio::test]
async fn the_drawing_has_its_scene_and_its_lines() {
    let asked = Asked::demo().await;
    let html = asked.get("/boxes/seed-bowl").await.text();
    let inside = between(&html, "data-scene>", "</script>");
    let scene = asked.get("/boxes/seed-bowl/scene.json").await;
    assert_eq!((scene.status, scene.header("content-type")), (StatusCode::OK, "application/json"));
    assert_eq!(scene.text(), inside);
    let value: serde_json::Value = serde_json::from_str(inside).unwrap();
    let parts = planned(demo::BOXES[2].1).parts.parts.len();
    assert!(value["pieces"].as_array().unwrap().len() >= parts);
    let front = asked.get("/boxes/seed-bowl/drawing.svg?from=0,-1,0").await;
    assert_eq!((front.status, front.header("content-type")), (StatusCode::OK, "image/svg+xml"));
    assert_ne!(front.text(), asked.get("/boxes/seed-bowl/drawing.svg?from=1,0,0&apart=0.5").await.text());
    let wrong = asked.get("/boxes/seed-bowl/drawing.svg?from=up").await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.text().contains("three numbers with commas"));
}
