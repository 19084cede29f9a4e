//! The sentence that opens each chapter, computed; its important numbers can be asked where they come from.

use super::say::{Bit, Say};
use keepwright_model::design::CornerJoint;
use keepwright_model::fit::{Ring, VISIBLE_GAP, Verdict};
use keepwright_model::job::Plan;
use keepwright_model::parts::Figure;
use keepwright_model::seasons::Season;
use keepwright_model::shop::glue::Stage;
use keepwright_model::units::Minutes;
use keepwright_packet::chapters::{Chapter, day, wood_name};
use keepwright_packet::shown::{Showing, and, capital, counted, hours, minutes, moisture, percent, shares};

/// The sentence of a chapter.
pub(super) fn lead(plan: &Plan, chapter: Chapter) -> Vec<Bit> {
    let say = Say::of(plan);
    let show = Showing::of(plan);
    match chapter {
        Chapter::Shape => shape(say, plan, &show),
        Chapter::Woods => woods(say, plan),
        Chapter::Boards => boards(say, plan, &show),
        Chapter::Saw => saw(say, plan),
        Chapter::Joints => joints(say, plan),
        Chapter::Seasons => seasons(say, plan),
        Chapter::Glue => glue(say, plan),
        Chapter::Finish => finish(say, plan),
        Chapter::Money => money(say, plan, &show),
        Chapter::Packet => packet(say, plan),
    }
    .done()
}

/// " for each box" where there are several.
fn each(plan: &Plan) -> &'static str {
    if plan.statement.count > 1 { " for each box" } else { "" }
}

fn shape<'p>(say: Say<'p>, plan: &Plan, show: &Showing) -> Say<'p> {
    let say = if plan.statement.count > 1 {
        say.number(plan.statement.count.to_string()).words(" boxes alike, each ")
    } else {
        say.words("The box is ")
    };
    let say = say
        .why(show.sizes(&plan.parts.outside), "outside.length")
        .words(" outside and ")
        .why(show.sizes(&plan.parts.inside), "inside.length")
        .words(" inside, made of ")
        .number(counted(plan.parts.parts.len(), "part", "parts"));
    match plan.mass() {
        Some(mass) => say.words("; it weighs ").number(show.mass(mass)).words("."),
        None => say.words("."),
    }
}

fn woods<'p>(say: Say<'p>, plan: &Plan) -> Say<'p> {
    let names: Vec<String> = plan.woods.iter().map(|(id, _)| wood_name(id)).collect();
    let say = match names.split_first() {
        Some((most, [])) => say.words("All of it is ").number(most.clone()),
        Some((most, rest)) => {
            say.words("Most of it is ").number(most.clone()).words(format!(", with {}", and(rest)))
        }
        None => say.words("No wood is stated"),
    };
    say.words("; the wood has ")
        .number(moisture(plan.living.today))
        .words(" moisture today and will settle between ")
        .why(moisture(plan.living.year.driest().moisture), "season.driest")
        .words(" and ")
        .why(moisture(plan.living.year.wettest().moisture), "season.wettest")
        .words(" in its home.")
}

fn boards<'p>(say: Say<'p>, plan: &Plan, show: &Showing) -> Say<'p> {
    let say = strip(say, plan, show);
    let stock = &plan.stock;
    let (all, short, used) = (stock.billets.len(), stock.cutting.short.len(), stock.cutting.layouts.len());
    if plan.rack.is_empty() {
        return say
            .number(counted(all, "blank stands", "blanks stand"))
            .words(" on the shopping list: no board of the rack is free.");
    }
    let say = say.number(counted(used, "board", "boards")).words(" from the rack ");
    let say = say.words(if used == 1 { "gives " } else { "give " });
    if short > 0 {
        return say
            .number(all.saturating_sub(short).to_string())
            .words(" of ")
            .number(all.to_string())
            .words(" blanks; the other ")
            .number(short.to_string())
            .words(" must be bought.");
    }
    let kept = stock.kept_area.to_mm2() / stock.board_area.to_mm2().max(1.0);
    let [blanks, kept, lost] = shares([1.0 - stock.not_billets(), kept, stock.waste()]);
    say.words("all ")
        .number(all.to_string())
        .words(" blanks: ")
        .number(blanks)
        .words(" of their faces become blanks, ")
        .number(kept)
        .words(" is kept as offcuts and ")
        .number(lost)
        .words(" is lost.")
}

/// How long the strip of the walls is, and what the figure does.
fn strip<'p>(say: Say<'p>, plan: &Plan, show: &Showing) -> Say<'p> {
    let runs = &plan.parts.runs;
    let Some(first) = runs.first() else { return say };
    let on = runs.iter().flat_map(|r| &r.corners).filter(|c| c.figure == Figure::RunsOn).count();
    let say = match runs.len() {
        1 => say.words(format!("The {} come from one strip ", counted(first.parts.len(), "wall", "walls"))),
        many => say.words(format!("The walls come from {many} strips, each ")),
    };
    say.why(show.length(first.strip_length), "run.length")
        .words(" long, and the figure runs on at ")
        .number(counted(on, "corner", "corners"))
        .words("; ")
}

fn saw<'p>(say: Say<'p>, plan: &Plan) -> Say<'p> {
    let saw = &plan.saw;
    let say = say
        .number(counted(saw.setups.len(), "set-up", "set-ups"))
        .words(" in this order take ")
        .why(minutes(saw.minutes), "saw.minutes")
        .words(" of setting and re-setting; ");
    if saw.proven() {
        say.words("no other order takes less.")
    } else {
        say.words("the best order is at most ").number(percent(saw.gap())).words(" shorter.")
    }
}

fn joints<'p>(say: Say<'p>, plan: &Plan) -> Say<'p> {
    let keys: u32 = plan.keys.iter().map(|k| k.needed).sum();
    let say = match &plan.statement.corners {
        CornerJoint::Miter => say.words("The corners are glued miters"),
        CornerJoint::Keyed(_) => say
            .words("The corners are miters held by ")
            .why(counted(keys as usize, "key", "keys"), "keys.count"),
        CornerJoint::Tongue(_) => say.words("The corners are miters with a hidden tongue"),
        CornerJoint::Fingers(_) => say.words("The corners are finger joints"),
    };
    match (&plan.fit.walls, &plan.fit.frame) {
        (Some(ring), _) => {
            ring_says(say.words("; with this saw's errors the walls' miters are typically "), ring, "fit")
        }
        (None, Some(ring)) => ring_says(
            say.words("; with this saw's errors the lid frame's miters are typically "),
            ring,
            "lid_fit",
        ),
        (None, None) => say.words("."),
    }
}

fn ring_says<'p>(say: Say<'p>, ring: &Ring, key: &str) -> Say<'p> {
    let gap = ring.spread();
    let says = match ring.verdict() {
        Verdict::NotSeen => "no gap will show",
        Verdict::MayShow => "a gap may show",
        Verdict::Shows => "a gap will show",
    };
    say.why(Showing::gap(gap.typical()), &format!("{key}.spread"))
        .words(" open and hardly ever more than ")
        .number(Showing::gap(gap.worst()))
        .words(format!(": {says}, {} being what the eye finds.", Showing::gap(VISIBLE_GAP.limit)))
}

fn seasons<'p>(say: Say<'p>, plan: &Plan) -> Say<'p> {
    let year = &plan.living.year;
    let ((dry, _), (wet, _)) = (year.end(Season::Driest), year.end(Season::Wettest));
    // What the verdict says of the air is said here with its reasons.
    let verdict = plan.living.verdict.split_once("; ").map_or(plan.living.verdict.as_str(), |(_, rest)| rest);
    say.words(format!("At {} wood settles at ", year.home))
        .why(moisture(year.driest().moisture), "season.driest")
        .words(format!(" in {dry} and at "))
        .why(moisture(year.wettest().moisture), "season.wettest")
        .words(format!(" in {wet}; {verdict}"))
}

fn glue<'p>(say: Say<'p>, plan: &Plan) -> Say<'p> {
    let stages: Vec<&Stage> = plan.glue.iter().flat_map(|g| &g.stages).collect();
    let volume: f64 = plan.glue.iter().map(|g| g.volume().to_ml()).sum();
    let Some(longest) = stages.iter().max_by(|a, b| a.needs.value().total_cmp(&b.needs.value())) else {
        return say.words("Nothing is glued.");
    };
    let key = longest
        .reasons
        .iter()
        .find(|r| r.key.rsplit('.').next() == Some("time"))
        .map_or("", |r| r.key.as_str());
    let say = say
        .number(counted(stages.len(), "stage", "stages"))
        .words(format!("{} with ", each(plan)))
        .number(format!("{volume:.0}\u{a0}mL"))
        .words(format!(" of glue; the longest ({}) needs ", longest.title));
    say.why(minutes(longest.needs), key)
        .words(" of the ")
        .why(minutes(plan.shop.bench.gluing.glue.open), "shop.glue.open")
        .words(" that the glue stays open.")
}

fn finish<'p>(say: Say<'p>, plan: &Plan) -> Say<'p> {
    let sanding: Minutes = plan.sanding.iter().map(|s| s.minutes).sum();
    let coats: u32 = plan.finish.coats.iter().map(|c| c.coats).sum();
    let liquid: f64 = plan.finish.coats.iter().map(|c| c.volume().to_ml()).sum();
    let say = say.number(minutes(sanding)).words(format!(" of sanding{}", each(plan)));
    if coats == 0 {
        return say.words("; the wood stays bare.");
    }
    say.words(", then ")
        .number(counted(coats as usize, "coat", "coats"))
        .words(" with ")
        .number(format!("{liquid:.0}\u{a0}mL"))
        .words(" of finish; packed no sooner than ")
        .why(minutes(plan.finish.cure), "finish.cure")
        .words(" after the last coat.")
}

fn money<'p>(say: Say<'p>, plan: &Plan, show: &Showing) -> Say<'p> {
    let count = plan.statement.count;
    let say = if count > 1 {
        say.words("In a batch of ").number(count.to_string()).words(" a box takes ")
    } else {
        say.words("The box takes ")
    };
    let say = say
        .why(hours(plan.timing.per_box), "time.per_box")
        .words(" of work and must bring ")
        .why(show.money(plan.price.price), "price");
    let say = if count > 1 {
        say.words("; made alone it would take ")
            .number(hours(plan.timing_single.per_box))
            .words(" and bring ")
            .number(show.money(plan.price_single.price))
    } else {
        say
    };
    match &plan.schedule {
        Some(s) => say
            .words(format!(". Begun on {}, it is done on {}, ", day(s.first), day(s.last)))
            .why(minutes(s.elapsed), "time.elapsed")
            .words(" later."),
        None => say.words("."),
    }
}

fn packet<'p>(say: Say<'p>, plan: &Plan) -> Say<'p> {
    let boards = plan.stock.cutting.layouts.len();
    say.words(format!("{} goes out as one packet: ", capital("everything that the bench needs")))
        .number(counted(plan.parts.parts.len(), "part", "parts"))
        .words(", ")
        .number(counted(boards, "board layout", "board layouts"))
        .words(", ")
        .number(counted(plan.saw.setups.len(), "set-up", "set-ups"))
        .words(" and ")
        .number(counted(plan.tasks.len(), "task", "tasks"))
        .words(" on paper, with templates, solids and lists as files.")
}
