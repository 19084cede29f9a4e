//! The shop's page: every field takes what is typed, nothing typed is lost, every version stays.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod common;

use axum::http::StatusCode;
use common::{Answer, Asked};
use keepwright_store::{By, Kind, Saved, Time};

fn head(asked: &Asked) -> keepwright_store::Version {
    let shop = asked.store.shop().unwrap().unwrap();
    asked.store.head(shop.id).unwrap()
}

async fn change(asked: &Asked, fields: &[(&str, &str)]) -> Answer {
    let base = head(asked).id.get().to_string();
    let mut all = vec![("base", base.as_str())];
    all.extend(fields);
    asked.post("/shop/change", &all).await
}

/// The value that stands in the field of a name.
fn value(page: &str, name: &str) -> String {
    let at = page.find(&format!("name=\"{name}\"")).unwrap_or_else(|| panic!("no field {name}"));
    let element = &page[at..at + page[at..].find('>').unwrap()];
    element.split("value=\"").nth(1).and_then(|v| v.split('"').next()).unwrap_or("").replace("&#34;", "\"")
}

#[tokio::test]
async fn the_page_says_what_the_shop_has() {
    let asked = Asked::demo().await;
    let page = asked.get("/shop").await;
    assert_eq!(page.status, StatusCode::OK);
    let text = page.text();
    assert!(text.contains("Heron Yard Joinery saws with a kerf of 2.4"), "{text}");
    for (name, want) in [
        ("f:saw.kerf", "3/32 in"),
        ("f:shop.hourly_rate", "38"),
        ("f:home.site", "Duluth"),
        ("f:saw.bevel_error.spread_degrees", "0.04"),
        ("f:hardware.1.name", "hinge"),
        ("f:hardware.1.price", "5.80"),
        ("f:router.bits", ""),
    ] {
        assert_eq!(value(&text, name), want, "{name}");
    }
    // Every operation has its own minutes beside the field, and Duluth is among the places.
    assert_eq!(text.matches("name=\"f:times.").count(), 25);
    assert!(text.contains("Duluth International Arpt, MN"), "places to choose from");
    assert!(text.contains("wood settles at"), "the year indoors");
}

#[tokio::test]
async fn a_field_changes_the_shop_and_the_version_says_so() {
    let asked = Asked::demo().await;
    let answer = change(&asked, &[("f:saw.kerf", "1/8\""), ("f:clamps.sets", "4")]).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text());
    let now = head(&asked);
    assert!(now.text.contains("kerf = '1/8\"'") && now.text.contains("sets = 4"), "{}", now.text);
    assert!(now.text.starts_with("# Heron Yard Joinery"), "comments stay");
    assert_eq!(now.says, "kerf of the blade: 3/32 in → 1/8\"; glue-ups in clamps at once: 3 → 4");
    assert_eq!(now.by, "this machine");
    assert_eq!(value(&asked.get("/shop").await.text(), "f:saw.kerf"), "1/8\"");
    // What is not sent stays.
    assert!(now.text.contains("site = \"Duluth\""));
}

#[tokio::test]
async fn a_wrong_value_is_told_at_its_field_and_stays_typed() {
    let asked = Asked::demo().await;
    let before = head(&asked);
    for (name, typed, says) in [
        ("f:saw.kerf", "three", "unit of length"),
        ("f:shop.hourly_rate", "a lot", "no number"),
        ("f:home.site", "Atlantis", "no place called"),
        ("f:shop.currency", "dollars", "ISO 4217"),
        ("f:week.rest_days", "4.5", "whole number"),
        ("f:wood.moisture_pct", "80", "out of bounds"),
        ("f:router.bits", "1/4, blunt", "unit of length"),
        ("f:home.monthly_rh_pct", "40, 41", "twelve"),
        ("f:times.miter", "soon", "no number"),
        ("f:hardware.1.price", "dear", "no number"),
        ("f:shop.name", "<script>alert(1)</script>\u{7}", ""),
    ] {
        let answer = change(&asked, &[(name, typed), ("f:glue.name", "\"hot\" & <thick>")]).await;
        let text = answer.text();
        assert!(!text.contains("<script>alert"), "{name} is not escaped");
        if says.is_empty() {
            continue;
        }
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{name} {typed}");
        assert!(text.contains(says), "{name}: {text}");
        assert_eq!(value(&text, name), typed);
        assert!(text.contains("&#60;thick&#62;"), "the other typed value stays");
        let at = text.find(&format!("name=\"{name}\"")).unwrap();
        let field = &text[at..at + text[at..].find('>').unwrap()];
        assert!(field.contains("aria-invalid=\"true\""), "{field}");
        let described = field.split("aria-describedby=\"").nth(1).unwrap().split('"').next().unwrap();
        assert!(text.contains(&format!("id=\"{described}\"")), "{described}");
        assert_eq!(head(&asked).id, before.id, "nothing was saved");
    }
}

#[tokio::test]
async fn days_rows_and_lists_are_taken() {
    let asked = Asked::demo().await;
    let fields = [
        ("f:week.workdays", ""),
        ("f:week.workdays", "mon"),
        ("f:week.workdays", "sat"),
        ("f:router.bits", "1/8 in, 6 mm"),
        ("f:times.glue ring", "25"),
        ("f:hardware.1.name", "hinge"),
        ("f:hardware.1.price", "6"),
    ];
    assert_eq!(change(&asked, &fields).await.status, StatusCode::SEE_OTHER);
    let text = head(&asked).text;
    for part in
        ["workdays = [\"mon\", \"sat\"]", "bits = [\"1/8 in\", \"6 mm\"]", "\"glue ring\" = 25", "price = 6"]
    {
        assert!(text.contains(part), "{part} in {text}");
    }
    assert_eq!(text.matches("[[hardware]]").count(), 1, "the rows that were not sent are gone: {text}");
    let page = asked.get("/shop").await.text();
    assert_eq!(page.matches("value=\"sat\" checked").count(), 1);
    assert_eq!(page.matches("value=\"tue\" checked").count(), 0);
}

#[tokio::test]
async fn undo_and_redo_walk_the_versions() {
    let asked = Asked::demo().await;
    change(&asked, &[("f:clamps.sets", "4")]).await;
    let (four, base) = (head(&asked), head(&asked).id.get().to_string());
    assert_eq!(asked.post("/shop/undo", &[("base", &base)]).await.status, StatusCode::SEE_OTHER);
    assert!(head(&asked).text.contains("sets = 3"));
    // The button of a page that is older than the head does nothing but say so.
    let late = asked.post("/shop/undo", &[("base", &base)]).await;
    assert!(matches!(late.status, StatusCode::SEE_OTHER | StatusCode::UNPROCESSABLE_ENTITY));
    assert!(head(&asked).text.contains("sets = 3"));
    let base = head(&asked).id.get().to_string();
    asked.post("/shop/redo", &[("base", &base)]).await;
    assert_eq!(head(&asked).id, four.id);
    let list = asked.get("/shop/versions").await.text();
    assert!(list.contains("glue-ups in clamps at once: 3 → 4") && list.contains("first start"), "{list}");
    let first = asked.store.versions(four.document, None, 10).unwrap().last().unwrap().id.get();
    assert!(asked.get(&format!("/shop/versions/{first}")).await.text().contains("sets = 3"));
    asked.post(&format!("/shop/versions/{first}/restore"), &[]).await;
    assert!(head(&asked).text.contains("sets = 3"));
    // Another document's version is none of the shop's.
    let chest = asked.store.document(Kind::Box, "stamp-chest").unwrap();
    let stranger = format!("/shop/versions/{}", chest.head.get());
    assert_eq!(asked.get(&stranger).await.status, StatusCode::NOT_FOUND);
    assert_eq!(asked.post(&format!("{stranger}/restore"), &[]).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_save_that_comes_second_is_told_and_kept() {
    let asked = Asked::demo().await;
    let base = head(&asked);
    let by = By::new("the other window", Time::seconds(common::NOW + 60));
    let other = base.text.replace("sets = 3", "sets = 5");
    assert!(matches!(asked.store.save(base.document, base.id, &other, "five", by).unwrap(), Saved::Kept(_)));
    let id = base.id.get().to_string();
    let answer = asked.post("/shop/change", &[("base", &id), ("f:saw.kerf", "2 mm")]).await;
    assert_eq!(answer.status, StatusCode::CONFLICT);
    let text = answer.text();
    assert!(
        text.contains("the other window") && text.contains("sets = 5") && text.contains("2 mm"),
        "{text}"
    );
    assert!(head(&asked).text.contains("sets = 5"), "the first save is in force");
    let mine = asked.store.versions(base.document, None, 1).unwrap()[0].id.get();
    asked.post(&format!("/shop/versions/{mine}/restore"), &[]).await;
    assert!(head(&asked).text.contains("kerf = \"2 mm\""), "{}", head(&asked).text);
}

#[tokio::test]
async fn the_file_goes_out_and_comes_in() {
    let asked = Asked::demo().await;
    let file = asked.get("/shop/shop.toml").await;
    assert_eq!(file.text(), head(&asked).text);
    assert!(file.header("content-disposition").contains("attachment"));
    let base = head(&asked).id.get().to_string();
    let text = file.text().replace("Heron Yard", "Rook Lane");
    let put = asked.post("/shop/file", &[("base", &base), ("text", &text.replace('\n', "\r\n"))]).await;
    assert_eq!(put.status, StatusCode::SEE_OTHER, "{}", put.text());
    assert_eq!(head(&asked).text, text);
    // A wrong text stays as it was given, with place and line.
    let base = head(&asked).id.get().to_string();
    let wrong = text.replace("sets = 3", "sets = \"many\" # </textarea>");
    let told = asked.post("/shop/file", &[("base", &base), ("text", &wrong)]).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = told.text();
    assert!(page.contains("Line ") && page.contains("whole number") && page.contains('^'), "{page}");
    assert!(page.contains("sets = &#34;many&#34; # &#60;/textarea&#62;"), "{page}");
    assert_eq!(head(&asked).text, text);
    // As an uploaded file.
    let upload = |body: &str| {
        format!(
            "--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"../../etc/x.toml\"\r\n\r\n{body}\r\n--b--\r\n"
        )
    };
    let came = asked.upload("/shop/file/upload", &upload(&text.replace("Rook", "Crow"))).await;
    assert_eq!(came.status, StatusCode::SEE_OTHER, "{}", came.text());
    assert!(head(&asked).text.contains("Crow Lane"));
    assert_eq!(
        asked.upload("/shop/file/upload", &upload("no = = toml")).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    assert_eq!(asked.upload("/shop/file/upload", "--b--\r\n").await.status, StatusCode::UNPROCESSABLE_ENTITY);
}

/// A text that another program left unreadable still has its page, and the page mends it.
#[tokio::test]
async fn a_shop_that_cannot_be_read_can_be_mended_on_its_page() {
    let asked = Asked::demo().await;
    let base = head(&asked);
    let broken = base.text.replace("\"3/32 in\"", "\"wide\"");
    asked
        .store
        .save(base.document, base.id, &broken, "by hand", By::new("x", Time::seconds(common::NOW)))
        .unwrap();
    let page = asked.get("/shop").await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(value(&page.text(), "f:saw.kerf"), "wide");
    assert!(page.text().contains("id=\"saw-kerf-wrong\""));
    assert_eq!(change(&asked, &[("f:saw.kerf", "2.4 mm")]).await.status, StatusCode::SEE_OTHER);
    assert!(!asked.get("/shop").await.text().contains("saw-kerf-wrong"));
}

#[tokio::test]
async fn a_backup_is_made_listed_and_gone_back_to() {
    let asked = Asked::demo().await;
    assert_eq!(asked.post("/shop/backups", &[]).await.status, StatusCode::SEE_OTHER);
    let made = asked.store.backups().unwrap();
    let asked_for = made.iter().find(|b| b.name.contains("asked")).unwrap().name.clone();
    change(&asked, &[("f:clamps.sets", "9")]).await;
    let list = asked.get("/shop/backups").await.text();
    assert!(list.contains("asked for") && list.contains(&asked_for) && list.contains("KiB"), "{list}");
    assert_eq!(
        asked.post("/shop/backups/restore", &[("name", &asked_for)]).await.status,
        StatusCode::SEE_OTHER
    );
    assert!(head(&asked).text.contains("sets = 3"));
    for hostile in ["../shop.sqlite", "/etc/passwd", "", "none.sqlite"] {
        let answer = asked.post("/shop/backups/restore", &[("name", hostile)]).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{hostile}");
    }
}

#[tokio::test]
async fn cautions_can_be_folded() {
    let asked = Asked::demo().await;
    let folded = |text: String| text.contains("value=\"folded\" checked");
    let pieces = |text: &str, piece: &str| text.matches(piece).count();
    let (fold, know) = ("<details class=\"fold\">", "<div class=\"caution know\">");
    let open = asked.get("/boxes/stamp-chest").await.text();
    assert!(pieces(&open, know) > 0 && pieces(&open, "<div class=\"caution fail\">") > 0, "{open}");
    assert_eq!(pieces(&open, fold), 0);
    assert!(!folded(asked.get("/shop").await.text()));
    asked.post("/shop/cautions", &[("show", "folded")]).await;
    assert!(folded(asked.get("/shop").await.text()));
    let shut = asked.get("/boxes/stamp-chest").await.text();
    // Each that is only worth knowing, and no graver one.
    assert_eq!(pieces(&shut, fold), pieces(&open, know));
    assert_eq!(pieces(&shut, &format!("{know}\n{fold}")), pieces(&shut, fold));
    asked.post("/shop/cautions", &[("show", "shown")]).await;
    assert!(!folded(asked.get("/shop").await.text()));
    assert_eq!(pieces(&asked.get("/boxes/stamp-chest").await.text(), fold), 0);
}

#[tokio::test]
async fn words_have_places_that_links_lead_to() {
    let asked = Asked::demo().await;
    let all = asked.get("/words").await.text();
    assert!(all.contains("id=\"word-rabbet\"") && all.contains("id=\"word-closing-corner\""), "{all}");
    // Every link into the glossary on the shop's page leads to an entry.
    let shop = asked.get("/shop").await.text();
    let links: Vec<&str> =
        shop.split("href=\"/words#").skip(1).map(|l| l.split('"').next().unwrap()).collect();
    assert!(links.len() > 10, "{links:?}");
    for link in links {
        assert!(all.contains(&format!("id=\"{link}\"")), "{link}");
    }
    for (asks, has) in [
        ("spline", "key"),
        ("rabet", "rabbet"),
        ("xylophone", "not in the glossary"),
        ("%3Cb%3E", "&#60;b&#62;"),
    ] {
        let found = asked.get(&format!("/words?word={asks}")).await.text();
        assert!(found.contains(has) && !found.contains("<b>x"), "{asks}: {found}");
    }
}
