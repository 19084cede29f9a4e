//! The forms of a box: what is typed becomes a version, a draft, or a version beside; nothing is lost.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod common;

use axum::http::StatusCode;
use common::{Answer, Asked};
use keepwright_store::{Document, Kind, Shelf, Version};

const SLUG: &str = "sewing-box";

fn document(asked: &Asked, slug: &str) -> Document {
    asked.store.document(Kind::Box, slug).unwrap()
}

fn head(asked: &Asked) -> Version {
    asked.store.head(document(asked, SLUG).id).unwrap()
}

fn base(asked: &Asked) -> String {
    head(asked).id.get().to_string()
}

/// A change made from the version in force.
async fn change(asked: &Asked, fields: &[(&str, &str)]) -> Answer {
    change_from(asked, &base(asked), fields).await
}

async fn change_from(asked: &Asked, base: &str, fields: &[(&str, &str)]) -> Answer {
    let mut all = vec![("base", base)];
    all.extend(fields);
    asked.post(&format!("/boxes/{SLUG}/change"), &all).await
}

/// Every named field of a page's form, as a browser would send it.
fn fields_of(page: &str) -> Vec<(String, String)> {
    let plain = |t: &str| {
        t.replace("&#34;", "\"")
            .replace("&#39;", "'")
            .replace("&#60;", "<")
            .replace("&#62;", ">")
            .replace("&#38;", "&")
    };
    let mut out = Vec::new();
    for piece in page.split('<').skip(1) {
        let value_of = |name: &str| {
            piece.split(&format!(" {name}=\"")).nth(1).map(|rest| plain(rest.split('"').next().unwrap()))
        };
        let Some(name) = value_of("name") else {
            if piece.starts_with("option ") && piece.contains(" selected") {
                let last: &mut (String, String) = out.last_mut().unwrap();
                last.1 = value_of("value").unwrap();
            }
            continue;
        };
        if piece.starts_with("input ") {
            out.push((name, value_of("value").unwrap_or_default()));
        } else if piece.starts_with("select ") {
            out.push((name, String::new()));
        } else if piece.starts_with("textarea ") {
            out.push((name, plain(piece.split_once(">\n").unwrap().1)));
        }
    }
    out.retain(|(name, _)| name.starts_with("f:"));
    out
}

#[tokio::test]
async fn an_untouched_form_changes_nothing_in_any_box() {
    let asked = Asked::demo().await;
    for line in asked.store.documents(Kind::Box, Shelf::Kept).unwrap() {
        for chapter in ["shape", "woods", "boards", "joints", "finish", "money"] {
            let page = asked.get(&format!("/boxes/{}/edit/{chapter}", line.slug)).await;
            assert_eq!(page.status, StatusCode::OK, "{} {chapter}", line.slug);
            let typed = fields_of(&page.text());
            assert!(!typed.is_empty(), "{} {chapter}", line.slug);
            let base = line.head.get().to_string();
            let mut fields = vec![("base", base.as_str()), ("chapter", chapter), ("from", "edit")];
            fields.extend(typed.iter().map(|(n, v)| (n.as_str(), v.as_str())));
            let answer = asked.post(&format!("/boxes/{}/change", line.slug), &fields).await;
            assert_eq!(answer.status, StatusCode::SEE_OTHER, "{} {chapter} {}", line.slug, answer.text());
            let now = asked.store.head(line.id).unwrap();
            assert_eq!(now.id, line.head, "{} {chapter} made {}:\n{}", line.slug, now.says, now.text);
        }
    }
}

#[tokio::test]
async fn a_typed_fraction_becomes_a_version_named_by_it() {
    let asked = Asked::demo().await;
    let before = head(&asked);
    let answer = change(&asked, &[("chapter", "shape"), ("f:walls.thickness", " 7/16\" ")]).await;
    assert_eq!(
        (answer.status, answer.header("location")),
        (StatusCode::SEE_OTHER, "/boxes/sewing-box#shape")
    );
    let now = head(&asked);
    assert_eq!(now.says, "wall thickness 1/2 in → 7/16\"");
    assert_eq!((now.parent, now.by.as_str()), (Some(before.id), "this machine"));
    // That line alone is another.
    let differing = before.text.lines().zip(now.text.lines()).filter(|(a, b)| a != b).count();
    assert_eq!((differing, before.text.lines().count()), (1, now.text.lines().count()));
    assert!(now.text.contains("thickness = '7/16\"'"), "{}", now.text);
    // Emptied, the usual holds.
    change(&asked, &[("f:walls.thickness", "")]).await;
    assert_eq!(head(&asked).says, "wall thickness 7/16\" → the usual 3/8 in");
}

#[tokio::test]
async fn a_wrong_value_keeps_what_was_typed_and_the_box_as_it_was() {
    let asked = Asked::demo().await;
    let before = head(&asked);
    let hostile = "7 1/<script>alert('x')</script>\"";
    let answer =
        change(&asked, &[("chapter", "shape"), ("f:walls.thickness", hostile), ("f:count", "x")]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = answer.text();
    assert!(!page.contains("<script>alert"), "{page}");
    let field = page.split("id=\"f-walls-thickness\"").nth(1).unwrap().split('>').next().unwrap();
    assert!(field.contains("aria-invalid=\"true\""), "{field}");
    assert!(field.contains("aria-describedby=\"f-walls-thickness-hint f-walls-thickness-wrong\""), "{field}");
    assert!(fields_of(&page).contains(&("f:walls.thickness".to_owned(), hostile.to_owned())));
    assert!(page.contains("is not a length"), "{page}");
    assert_eq!(head(&asked), before);
    // A reload shows it still, in both chapters that were changed.
    let again = asked.get(&format!("/boxes/{SLUG}/edit/shape")).await.text();
    assert!(fields_of(&again).contains(&("f:walls.thickness".to_owned(), hostile.to_owned())));
    let money = asked.get(&format!("/boxes/{SLUG}/edit/money")).await.text();
    assert!(fields_of(&money).contains(&("f:count".to_owned(), "x".to_owned())));
    // Mended from the draft, both are saved and the draft is gone.
    let draft = again.split("name=\"draft\" value=\"").nth(1).unwrap().split('"').next().unwrap().to_owned();
    let mended = [("draft", draft.as_str()), ("f:walls.thickness", "10"), ("f:count", "2")];
    assert_eq!(change(&asked, &mended).await.status, StatusCode::SEE_OTHER);
    assert!(head(&asked).text.contains("thickness = 10"));
    assert!(!asked.get(&format!("/boxes/{SLUG}/edit/shape")).await.text().contains("name=\"draft\""));
}

#[tokio::test]
async fn a_caution_changes_the_statement_by_one_press() {
    let asked = Asked::demo().await;
    let fields = [
        ("set", "lid.panel.wood = \"white ash\""),
        ("set", "lid.panel.hold = \"groove\""),
        ("says", "Float the panel in a groove"),
        ("at", "seasons"),
    ];
    let answer = change(&asked, &fields).await;
    assert_eq!(
        (answer.status, answer.header("location")),
        (StatusCode::SEE_OTHER, "/boxes/sewing-box#seasons")
    );
    let floated = head(&asked);
    assert_eq!(floated.says, "Float the panel in a groove");
    // The sheet that was stated makes way for the wood.
    assert!(floated.text.contains("#: lid.panel.sheet = \"birch plywood\""), "{}", floated.text);
    for set in ["bottom.depth", "bottom.depth = = 3", "bottom.depth = \"<b>\""] {
        let answer = change(&asked, &[("set", set), ("says", "Cut it deeper")]).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{set}");
        assert!(!answer.text().contains("<b>"));
    }
    assert_eq!(head(&asked), floated);
}

#[tokio::test]
async fn what_does_not_apply_is_set_aside_and_comes_back() {
    let asked = Asked::demo().await;
    let before = head(&asked);
    assert_eq!(change(&asked, &[("f:lid.kind", "sliding")]).await.status, StatusCode::SEE_OTHER);
    let sliding = head(&asked);
    assert!(sliding.text.contains("#: lid.member = 36"), "{}", sliding.text);
    assert!(sliding.text.contains("#: hinges = {"), "{}", sliding.text);
    assert_eq!(sliding.says, "lid kind frame → sliding");
    assert!(!sliding.text.contains("\n[hinges]"));
    assert_eq!(change(&asked, &[("f:lid.kind", "frame")]).await.status, StatusCode::SEE_OTHER);
    let shop = keepwright_model::design::Defaults::default();
    let read = |text: &str| {
        keepwright_model::design::read_statement(text, &shop, &keepwright_model::wood::named).unwrap()
    };
    let back = head(&asked).text;
    assert!(back.contains("\n[hinges]\n") && !back.contains("#:"), "{back}");
    assert_eq!(format!("{:#?}", read(&back)), format!("{:#?}", read(&before.text)), "{back}");
}

#[tokio::test]
async fn rows_are_added_moved_and_taken_away() {
    let asked = Asked::demo().await;
    let names = |asked: &Asked| {
        let text = head(asked).text;
        let names = text.lines().filter_map(|l| l.split("name = \"").nth(1));
        names.skip(1).map(|n| n.split('"').next().unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(names(&asked)[..2], ["thread spools", "scissors and tape"]);
    change(&asked, &[("row", "add size.contents.item")]).await;
    assert_eq!(head(&asked).says, "2 things → 3 things");
    change(&asked, &[("f:size.contents.item.3.name", "pins"), ("row", "up size.contents.item.3")]).await;
    assert_eq!(names(&asked)[..3], ["thread spools", "pins", "scissors and tape"]);
    change(&asked, &[("row", "remove size.contents.item.1")]).await;
    assert_eq!(names(&asked)[..2], ["pins", "scissors and tape"]);
    // A row that is not there, and one that is none.
    for row in ["up size.contents.item.9", "remove walls.1", "add nothing"] {
        assert_eq!(change(&asked, &[("row", row)]).await.status, StatusCode::SEE_OTHER, "{row}");
    }
}

#[tokio::test]
async fn the_later_save_is_told_and_both_are_there() {
    let asked = Asked::demo().await;
    let old = base(&asked);
    change(&asked, &[("f:name", "Mending box")]).await;
    let theirs = head(&asked);
    assert_eq!(document(&asked, SLUG).name, "Mending box");
    let answer = change_from(&asked, &old, &[("f:walls.thickness", "11")]).await;
    assert_eq!(answer.status, StatusCode::CONFLICT);
    let page = answer.text();
    for want in [
        "Another change came first",
        "Mending box",
        "wall thickness",
        "Keep mine on top",
        "Open side by side",
    ] {
        assert!(page.contains(want), "{want} in {page}");
    }
    assert_eq!(head(&asked), theirs);
    let beside = asked.store.versions(document(&asked, SLUG).id, None, 1).unwrap().remove(0);
    assert!(asked.store.version(beside.id).unwrap().text.contains("thickness = 11"));
    let mine = beside.id.get().to_string();
    assert_eq!(asked.get(&format!("/boxes/{SLUG}/later?mine={mine}")).await.status, StatusCode::OK);
    let on_top = [("base", base(&asked)), ("mine", mine)];
    let on_top: Vec<(&str, &str)> = on_top.iter().map(|(n, v)| (*n, v.as_str())).collect();
    assert_eq!(asked.post(&format!("/boxes/{SLUG}/mine"), &on_top).await.status, StatusCode::SEE_OTHER);
    let both = head(&asked).text;
    assert!(both.contains("thickness = 11") && both.contains("Mending box"), "{both}");
    assert_eq!(head(&asked).says, "on top: wall thickness 1/2 in → 11 mm");
    // A script is told where to go.
    let fields = [("base", old.as_str()), ("f:walls.thickness", "9")];
    let answer = asked.post_for(&format!("/boxes/{SLUG}/change"), &fields, "application/json").await;
    assert_eq!(answer.status, StatusCode::CONFLICT);
    let json: serde_json::Value = serde_json::from_slice(&answer.body).unwrap();
    assert!(json["page"].as_str().unwrap().starts_with("/boxes/sewing-box/later?mine="), "{json}");
}

#[tokio::test]
async fn undo_and_redo_have_no_end() {
    let asked = Asked::demo().await;
    let first = head(&asked);
    for thickness in ["9", "10", "11"] {
        change(&asked, &[("f:walls.thickness", thickness), ("f:name", thickness)]).await;
    }
    let last = head(&asked);
    let step = async |way: &str| {
        let base = base(&asked);
        asked.post(&format!("/boxes/{SLUG}/{way}"), &[("base", base.as_str())]).await.status
    };
    for _ in 0..5 {
        assert_eq!(step("undo").await, StatusCode::SEE_OTHER);
    }
    assert_eq!(head(&asked).id, first.id);
    assert_eq!(document(&asked, SLUG).name, "Sewing box");
    for _ in 0..5 {
        assert_eq!(step("redo").await, StatusCode::SEE_OTHER);
    }
    assert_eq!(head(&asked).id, last.id);
    assert_eq!(document(&asked, SLUG).name, "11");
    // From a page that shows an older version nothing is undone.
    let old = first.id.get().to_string();
    let answer = asked.post(&format!("/boxes/{SLUG}/undo"), &[("base", old.as_str())]).await;
    assert_eq!(answer.status, StatusCode::CONFLICT);
    assert!(answer.text().contains("Nothing was undone"));
    assert_eq!(head(&asked).id, last.id);
}

#[tokio::test]
async fn the_whole_text_is_the_same_file() {
    let asked = Asked::demo().await;
    let text = head(&asked).text;
    let page = asked.get(&format!("/boxes/{SLUG}/text")).await.text();
    assert!(page.contains("# A hinged box sized by what goes in it"), "{page}");
    let broken = text.replacen("thickness = \"1/2 in\"", "thickness = 1/2 in # <b>", 1);
    let answer = change(&asked, &[("from", "text"), ("text", &broken.replace('\n', "\r\n"))]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = answer.text();
    let line = broken.lines().position(|l| l.contains("1/2 in # <b>")).unwrap() + 1;
    assert!(page.contains(&format!("Line {line}, column 13")), "{page}");
    assert!(page.contains('^') && page.contains("thickness = 1/2 in # &#60;b&#62;"));
    assert_eq!(head(&asked).text, text);
    // Kept over a reload, listed, and thrown away only when asked.
    let again = asked.get(&format!("/boxes/{SLUG}/text")).await.text();
    assert!(again.contains("thickness = 1/2 in # &#60;b&#62;") && again.contains("Draft 1"), "{again}");
    assert!(!asked.get(&format!("/boxes/{SLUG}/text?draft=0")).await.text().contains("1/2 in # &#60;b&#62;"));
    let good = text.replacen("\"1/2 in\"", "\"3/8 in\"", 1);
    let answer = change(&asked, &[("from", "text"), ("draft", "1"), ("text", &good)]).await;
    assert_eq!((answer.status, answer.header("location")), (StatusCode::SEE_OTHER, "/boxes/sewing-box/text"));
    assert_eq!((head(&asked).says.as_str(), head(&asked).text), ("wall thickness 1/2 in → 3/8 in", good));
    assert!(!asked.get(&format!("/boxes/{SLUG}/text")).await.text().contains("Draft 1"));
    let longest = format!("{text}# {}\n= =", "x".repeat(70_000));
    let answer = change(&asked, &[("from", "text"), ("text", &longest)]).await;
    assert!(answer.text().contains("too long to be kept as a draft"));
}

#[tokio::test]
async fn a_look_saves_nothing_and_says_what_is_wrong_where() {
    let asked = Asked::demo().await;
    let before = head(&asked);
    let base = base(&asked);
    let look = async |fields: &[(&str, &str)]| -> serde_json::Value {
        let mut all = vec![("base", base.as_str())];
        all.extend(fields);
        let answer = asked.post_for(&format!("/boxes/{SLUG}/try"), &all, "application/json").await;
        assert_eq!(answer.status, StatusCode::OK, "{}", answer.text());
        serde_json::from_slice(&answer.body).unwrap()
    };
    let good = look(&[("f:walls.thickness", "7/16 in")]).await;
    assert_eq!(good["ok"], true, "{}", good["problems"]);
    assert!(good["sentence"].as_str().unwrap().contains("outside"), "{good}");
    let bad = look(&[("f:walls.thickness", "7/")]).await;
    assert_eq!(bad["ok"], false);
    let problem = &bad["problems"][0];
    assert_eq!(problem["field"], "f-walls-thickness", "{bad}");
    assert_eq!(problem["key"], "walls.thickness");
    let line = before.text.lines().position(|l| l.starts_with("thickness")).unwrap() + 1;
    assert_eq!(problem["line"], line);
    // Reads, but cannot be: frame members wider than the lid.
    let impossible = look(&[("f:lid.member", "2 m")]).await;
    assert_eq!(impossible["ok"], false, "{}", impossible["sentence"]);
    assert_eq!(head(&asked), before);
}

#[tokio::test]
async fn a_box_that_cannot_be_planned_is_a_version_all_the_same() {
    let asked = Asked::demo().await;
    let answer = change(&asked, &[("f:walls.thickness", "3 mm")]).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    let kept = head(&asked);
    let fields = [("base", kept.id.get().to_string()), ("f:walls.thickness", "3.5 mm".to_owned())];
    let fields: Vec<(&str, &str)> = fields.iter().map(|(n, v)| (*n, v.as_str())).collect();
    let answer = asked.post_for(&format!("/boxes/{SLUG}/change"), &fields, "application/json").await;
    let json: serde_json::Value = serde_json::from_slice(&answer.body).unwrap();
    assert_eq!(json["ok"], true, "{json}");
    assert_eq!(json["undo"], true);
    assert!(!json["problems"].as_array().unwrap().is_empty(), "{json}");
}

#[tokio::test]
async fn a_script_gets_the_fields_that_changed() {
    let asked = Asked::demo().await;
    let base = base(&asked);
    let fields = [("base", base.as_str()), ("f:lid.kind", "slab")];
    let answer = asked.post_for(&format!("/boxes/{SLUG}/change"), &fields, "application/json").await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.text());
    let json: serde_json::Value = serde_json::from_slice(&answer.body).unwrap();
    assert_eq!(json["base"].as_i64(), Some(head(&asked).id.get()));
    let shape = json["forms"]["shape"].as_str().unwrap();
    assert!(shape.contains("f:lid.thickness") && !shape.contains("f:lid.member"), "{shape}");
    assert!(json["forms"].get("finish").is_none(), "{json}");
    assert!(json["says"].as_str().unwrap().starts_with("lid kind frame → slab"), "{}", json["says"]);
}

#[tokio::test]
async fn versions_are_listed_opened_compared_and_put_back() {
    let asked = Asked::demo().await;
    let first = head(&asked);
    for n in 0..45 {
        let thickness = format!("{}", 8.0 + f64::from(n) / 10.0);
        change(&asked, &[("f:walls.thickness", &thickness)]).await;
    }
    change(&asked, &[("f:name", "<i>hostile</i>")]).await;
    let page = asked.get(&format!("/boxes/{SLUG}/versions")).await.text();
    assert!(
        page.contains("name Sewing box → &#60;i&#62;hostile&#60;/i&#62;") && !page.contains("<i>hostile"),
        "{page}"
    );
    let older = page.split("versions?before=").nth(1).unwrap().split('"').next().unwrap();
    let rest = asked.get(&format!("/boxes/{SLUG}/versions?before={older}")).await.text();
    assert!(rest.contains(&format!("/versions/{}\"", first.id.get())), "{rest}");
    let (a, b) = (first.id.get(), head(&asked).id.get());
    let opened = asked.get(&format!("/boxes/{SLUG}/versions/{a}")).await;
    assert_eq!(opened.status, StatusCode::OK);
    assert!(opened.text().contains("readonly"));
    let compared = asked.get(&format!("/boxes/{SLUG}/compare?a={a}&b={b}")).await.text();
    for want in ["wall thickness", "Price of one", "Weight", "front", "Both at one scale"] {
        assert!(compared.contains(want), "{want} in {compared}");
    }
    for side in ["a", "b"] {
        let drawing = asked.get(&format!("/boxes/{SLUG}/compare.svg?a={a}&b={b}&side={side}")).await;
        assert_eq!(drawing.header("content-type"), "image/svg+xml");
        assert!(drawing.text().starts_with("<svg"));
    }
    let put_back = a.to_string();
    asked.post(&format!("/boxes/{SLUG}/restore"), &[("version", put_back.as_str())]).await;
    assert_eq!(head(&asked).text, first.text);
    assert_ne!(head(&asked).id, first.id);
    assert_eq!(document(&asked, SLUG).name, "Sewing box");
    // A version of another box is not this one's.
    let other = document(&asked, "seed-bowl").head.get();
    assert_eq!(asked.get(&format!("/boxes/{SLUG}/versions/{other}")).await.status, StatusCode::NOT_FOUND);
    let other = other.to_string();
    assert_eq!(change_from(&asked, &other, &[("f:name", "x")]).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_box_is_copied_renamed_binned_and_given_a_day() {
    let asked = Asked::demo().await;
    let answer = asked.post(&format!("/boxes/{SLUG}/copy"), &[("name", "Second \"box\"")]).await;
    assert_eq!(answer.header("location"), "/boxes/second-box");
    let copy = document(&asked, "second-box");
    assert!(asked.store.head(copy.id).unwrap().text.contains("name = \"Second \\\"box\\\"\""));
    let job = [("state", "glued"), ("due", "2026-12-24"), ("customer", "Mrs. <Hand>")];
    assert_eq!(asked.post("/boxes/second-box/job", &job).await.status, StatusCode::SEE_OTHER);
    let kept = asked.store.job(copy.id).unwrap();
    assert_eq!(
        (kept.state.word(), kept.due.as_deref(), kept.customer.as_str()),
        ("glued", Some("2026-12-24"), "Mrs. <Hand>")
    );
    let wrong = asked.post("/boxes/second-box/job", &[("due", "12/24<b>")]).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        wrong.text().contains("value=\"12/24&#60;b&#62;\"") && wrong.text().contains("is no date"),
        "{}",
        wrong.text()
    );
    assert_eq!(
        asked.post("/boxes/second-box/job", &[("state", "lost")]).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    for path in ["rename", "copy"] {
        let wrong = asked.post(&format!("/boxes/second-box/{path}"), &[("name", " … ")]).await;
        assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY, "{path}");
    }
    asked.post("/boxes/second-box/rename", &[("name", "Third box")]).await;
    assert_eq!(document(&asked, "second-box").name, "Third box");
    assert!(asked.store.head(copy.id).unwrap().text.contains("name = \"Third box\""));
    asked.post("/boxes/second-box/bin", &[]).await;
    assert!(asked.get("/boxes/bin").await.text().contains("Third box"));
    asked.post("/boxes/second-box/unbin", &[]).await;
    assert!(asked.get("/boxes/bin").await.text().contains("The bin is empty"));
}

#[tokio::test]
async fn every_address_of_a_box_that_is_not_there_says_so() {
    let asked = Asked::demo().await;
    for path in ["edit/shape", "text", "versions", "compare", "compare.svg", "job", "later?mine=1"] {
        assert_eq!(
            asked.get(&format!("/boxes/nowhere/{path}")).await.status,
            StatusCode::NOT_FOUND,
            "{path}"
        );
    }
    for path in ["change", "try", "undo", "redo", "restore", "copy", "rename", "bin", "unbin", "job", "mine"]
    {
        let answer = asked.post(&format!("/boxes/nowhere/{path}"), &[("name", "x")]).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{path}");
    }
    assert_eq!(asked.get(&format!("/boxes/{SLUG}/edit/nothing")).await.status, StatusCode::NOT_FOUND);
    assert_eq!(change_from(&asked, "x", &[("f:name", "x")]).await.status, StatusCode::NOT_FOUND);
}
