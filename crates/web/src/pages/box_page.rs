//! A box: the drawing stays in view, the chapters scroll beside it.

use super::cutting::{Accepted, accepted};
use super::frame::{Frame, page};
use super::shop::worth_knowing;
use crate::chapters::{Changes, ChapterContext, fragments};
use crate::drafts::{self, Draft};
use crate::error::PageError;
use crate::forms;
use crate::pages::change::preview::spots;
use crate::planner::{self, Boards, Ground};
use crate::policy::who::{Rights, Who};
use crate::scene;
use crate::state::Bench;
use askama::Template;
use axum::extract::{Path, State};
use axum::response::Response;
use axum::routing::get;
use axum::{Extension, Router};
use keepwright_model::design::Problem;
use keepwright_model::job::Plan;
use keepwright_model::shop::schedule::Day;
use keepwright_packet::chapters::{Chapter, day, picture, wood_name, worst};
use keepwright_packet::shown::and;
use keepwright_packet::svg;
use keepwright_store::{Document, Job, Shelf, Version};

/// How many versions back the last that can be planned is looked for.
const MOST_BACK: usize = 200;
/// Pixels for a millimeter of the drawing that stays in view.
const STILL_PIXELS: f64 = 4.0;

/// The addresses of this screen.
pub(crate) fn routes() -> Router<Bench> {
    Router::new().route("/boxes/{slug}", get(show)).merge(super::box_asked::routes())
}

#[derive(Template)]
#[template(path = "pages/box.html")]
struct BoxPage {
    frame: Frame,
    slug: String,
    name: String,
    /// Woods, customer and due day in a row.
    under: String,
    state: &'static str,
    /// The version in force.
    number: i64,
    in_bin: bool,
    /// What is wrong with the version in force.
    problems: Vec<ProblemLine>,
    /// The number of the last version that could be planned, where that is not the one in force.
    instead: Option<i64>,
    /// The box in space, or in lines where that is not possible; none where nothing can be planned.
    drawing: Option<String>,
    steps: Steps,
    chapters: Vec<ChapterView>,
    /// The layout of several boxes together that was accepted for this one.
    accepted: Option<Accepted>,
}

/// Undo, redo, and where the versions are.
struct Steps {
    /// The version in force.
    head: Version,
    /// The draft that the fields show instead of it, if they show one.
    draft: Option<u64>,
}

/// A chapter of the page.
struct ChapterView {
    id: &'static str,
    title: &'static str,
    /// The class and the words of its gravest caution; empty without one.
    worst: (&'static str, &'static str),
    /// Its computed part; empty where nothing can be planned.
    html: String,
    /// Its fields; empty where it has none, or the reader may only look.
    form: String,
    /// Whether one of its fields needs mending.
    open: bool,
}

/// A problem with its place.
struct ProblemLine {
    line: usize,
    column: usize,
    key: String,
    says: String,
    remedy: String,
}

impl ProblemLine {
    fn of(problem: &Problem, text: &str) -> Self {
        let place = problem.place(text);
        Self {
            line: place.line,
            column: place.column,
            key: problem.key.clone(),
            says: problem.says.clone(),
            remedy: problem.remedy.clone(),
        }
    }
}

/// The version whose plan is shown, with what is wrong with the one in force.
struct Shown {
    plan: Option<Plan>,
    version: Version,
    problems: Vec<Problem>,
}

/// The day that a box is due, as its job has it; a day that is none counts as not stated.
pub(crate) fn due(job: &Job) -> Option<Day> {
    job.due.as_deref().and_then(|text| Day::parse(text).ok())
}

/// The plan of the version in force, or that of the last version that could be planned.
fn shown(
    bench: &Bench,
    document: &Document,
    ground: &Ground,
    head: &Version,
    due: Option<Day>,
) -> Result<Shown, PageError> {
    let plan = |text: &str| planner::planned(text, ground, Boards::Rack, due);
    let problems = match plan(&head.text) {
        Ok(plan) => return Ok(Shown { plan: Some(plan), version: head.clone(), problems: Vec::new() }),
        Err(problems) => problems,
    };
    for line in bench.store().versions(document.id, Some(head.number), MOST_BACK)? {
        let version = bench.store().version(line.id)?;
        if let Ok(plan) = plan(&version.text) {
            return Ok(Shown { plan: Some(plan), version, problems });
        }
    }
    Ok(Shown { plan: None, version: head.clone(), problems })
}

async fn show(
    State(bench): State<Bench>,
    Extension(who): Extension<Who>,
    Path(slug): Path<String>,
) -> Result<Response, PageError> {
    let made = bench.work(move |bench| box_page(bench, &who, &slug)).await?;
    page(&made)
}

fn box_page(bench: &Bench, who: &Who, slug: &str) -> Result<BoxPage, PageError> {
    let document = bench.find_box(slug)?;
    let head = bench.store().head(document.id)?;
    let job = bench.store().job(document.id)?;
    let ground = bench.ground(document.id)?;
    let shown = shown(bench, &document, &ground, &head, due(&job))?;
    let frame = Frame::of(bench, who, "boxes")?;
    let in_force = shown.version.id == head.id;
    let context = ChapterContext {
        slug: document.slug.clone(),
        forgery: frame.forgery.clone(),
        base: head.id.get(),
        version: shown.version.id.get(),
        boards: Boards::Rack,
        changes: if in_force && who.rights == Rights::Full { Changes::Offered } else { Changes::Said },
        worth_knowing: worth_knowing(bench)?,
    };
    let mut parts =
        shown.plan.as_ref().map(|plan| fragments(plan, &context)).transpose()?.unwrap_or_default();
    let fields = Fields::of(bench, &document, &head, &frame)?;
    let chapters = Chapter::ALL
        .into_iter()
        .map(|chapter| ChapterView {
            id: chapter.id(),
            title: chapter.title(),
            worst: shown.plan.as_ref().map_or(("", ""), |plan| mark(plan, chapter)),
            html: parts.remove(chapter.id()).unwrap_or_default(),
            form: String::new(),
            open: false,
        })
        .map(|view| fields.put_in(view))
        .collect::<Result<_, PageError>>()?;
    Ok(BoxPage {
        slug: document.slug.clone(),
        under: under(shown.plan.as_ref(), &job),
        state: job.state.word(),
        number: head.number,
        in_bin: document.shelf == Shelf::Bin,
        problems: shown.problems.iter().map(|p| ProblemLine::of(p, &head.text)).collect(),
        instead: (!in_force && shown.plan.is_some()).then_some(shown.version.number),
        drawing: shown.plan.as_ref().map(|plan| drawing(plan, &context)).transpose()?,
        steps: Steps { draft: fields.draft.as_ref().map(|d| d.number), head: fields.head },
        chapters,
        accepted: accepted(bench, document.id)?,
        name: document.name,
        frame,
    })
}

/// The fields of all chapters: of the draft that goes on from the version in force, else of that version.
struct Fields<'a> {
    slug: &'a str,
    forgery: &'a str,
    only_looks: bool,
    head: Version,
    draft: Option<Draft>,
    problems: Vec<Problem>,
    /// The chapters whose fields have problems.
    troubled: Vec<&'static str>,
}

impl<'a> Fields<'a> {
    fn of(
        bench: &Bench,
        document: &'a Document,
        head: &Version,
        frame: &'a Frame,
    ) -> Result<Self, PageError> {
        let draft = drafts::fresh(bench, document.id, head)?;
        let text = draft.as_ref().map_or(&head.text, |d| &d.text);
        let problems = planner::statement(text, &bench.shop()?).err().unwrap_or_default();
        let troubled = spots(text, &problems).into_iter().map(|spot| spot.chapter).collect();
        let (slug, forgery) = (&document.slug, &frame.forgery);
        Ok(Self {
            slug,
            forgery,
            only_looks: frame.only_looks,
            head: head.clone(),
            draft,
            problems,
            troubled,
        })
    }

    fn put_in(&self, view: ChapterView) -> Result<ChapterView, PageError> {
        let Some(chapter) = forms::chapter(view.id).filter(|_| !self.only_looks) else { return Ok(view) };
        let made = forms::Made {
            slug: self.slug,
            base: self.head.id.get(),
            draft: self.draft.as_ref().map(|d| d.number),
            forgery: self.forgery,
            from: "box",
        };
        let text = self.draft.as_ref().map_or(&self.head.text, |d| &d.text);
        let shown = forms::Shown { text, problems: &self.problems, typed: &[] };
        let open = self.troubled.contains(&view.id);
        Ok(ChapterView { form: forms::form(&made, chapter, shown)?, open, ..view })
    }
}

/// The drawing of a plan, in space or, where that is not possible, in lines.
fn drawing(plan: &Plan, context: &ChapterContext) -> Result<String, PageError> {
    let title = format!("{}, closed, with its outside sizes", plan.statement.name);
    let closed = picture::draw(plan, "closed");
    let still = closed.map_or_else(String::new, |d| svg::inline(&d, STILL_PIXELS, &title, "still-"));
    let href = format!("/boxes/{}/drawing.svg?v={}", context.slug, context.version);
    Ok(scene::element(plan, &still, &href)?)
}

/// The box in space as text that a page may carry.
pub(super) fn scene_text(plan: &Plan) -> Result<String, PageError> {
    scene::json(&scene::scene(plan)).map_err(|e| PageError::Broken(e.to_string()))
}

/// The class and the word of a chapter's gravest caution.
fn mark(plan: &Plan, chapter: Chapter) -> (&'static str, &'static str) {
    use keepwright_model::caution::Weight;
    match worst(plan, chapter) {
        None => ("", ""),
        Some(Weight::WorthKnowing) => ("know", ""),
        Some(weight @ Weight::LikelyToFail) => ("fail", weight.words()),
        Some(weight @ Weight::Cannot) => ("cannot", weight.words()),
    }
}

/// Woods, customer, due day.
fn under(plan: Option<&Plan>, job: &Job) -> String {
    let woods: Vec<String> =
        plan.iter().flat_map(|p| &p.woods).take(4).map(|(id, _)| wood_name(id)).collect();
    let mut said = Vec::new();
    if !woods.is_empty() {
        said.push(and(&woods));
    }
    if !job.customer.trim().is_empty() {
        said.push(format!("for {}", job.customer.trim()));
    }
    match (&job.due, due(job)) {
        (_, Some(due)) => said.push(format!("due {}", day(due))),
        (Some(written), None) => said.push(format!("due {written}")),
        (None, None) => {}
    }
    said.join(" · ")
}
