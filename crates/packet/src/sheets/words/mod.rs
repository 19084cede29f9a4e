//! The box in plain sentences, so that maker and customer agree on what is made.

mod body;
mod inside;
mod lid;

use keepwright_model::caution::Weight;
use keepwright_model::design::{RingCut, WoodUse};

use super::draft::{Chapter, Draft, figure, title, under, wood_name};
use crate::document::Sheet;
use crate::flow::{Block, Bullet, List, Words};
use crate::shown::{and, angle, capital};

pub(super) fn sheet(draft: &Draft<'_>) -> Sheet {
    let mut blocks = vec![title("The box in words"), Block::Lead(Words::marked(&body::lead(draft)))];
    blocks.push(figure(
        draft.drawn.views.clone(),
        "Front, top and right side of the closed box.",
        "Front, top and right side of the closed box with overall sizes.",
    ));
    for paragraph in paragraphs(draft) {
        blocks.push(Block::paragraph(&paragraph));
    }
    blocks.extend(first(draft));
    // What is grave stands in the list above as well; the whole caution, with its reason, here.
    blocks.extend(draft.cautions(Chapter::Words));
    Sheet::new("The box in words", blocks)
}

/// The paragraphs of the description, each about one thing.
fn paragraphs(draft: &Draft<'_>) -> Vec<String> {
    let all = [
        body::size(draft),
        body::walls(draft),
        body::corners(draft),
        body::bottom(draft),
        lid::lid(draft),
        inside::inside(draft),
        inside::outside(draft),
        inside::finish(draft),
    ];
    all.into_iter().filter(|p| !p.is_empty()).collect()
}

/// What must be settled before wood is cut, to be ticked off.
fn first(draft: &Draft<'_>) -> Vec<Block> {
    let items: Vec<Words> = draft
        .grave()
        .iter()
        .filter(|grave| grave.chapter != Chapter::Words)
        .map(|grave| {
            let weight =
                if grave.first.weight == Weight::Cannot { "not as it stands" } else { "likely to fail" };
            let places = match grave.places.as_slice() {
                [] => grave.chapter.title().to_owned(),
                few if few.len() <= 4 => and(few),
                [first, second, rest @ ..] => format!("{first}, {second} and {} more", rest.len()),
                [one] => (*one).to_owned(),
            };
            let cure = grave.first.change.as_ref().map_or("", |c| c.says.trim_end_matches('.'));
            // Set-ups say the rest on their cards.
            let says = if grave.chapter == Chapter::Setups && !cure.is_empty() {
                ""
            } else {
                grave.first.says.as_str()
            };
            let said = [says, cure].into_iter().filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ");
            Words::bold(format!("{}, {weight}: ", capital(&places))).and(format!(
                "{} ({})",
                said.trim_end_matches('.'),
                grave.chapter.title()
            ))
        })
        .collect();
    let list =
        if items.is_empty() { Vec::new() } else { vec![Block::List(List { bullet: Bullet::Box, items })] };
    under("Before wood is cut", list)
}

/// A wood and how it is sawn: `quartersawn sycamore`.
fn wood(of: &WoodUse) -> String {
    let name = wood_name(&of.wood);
    // Sheets have no rings.
    if keepwright_model::wood::sheet(&of.wood).is_some() {
        return name;
    }
    match of.rings {
        RingCut::FlatSawn => format!("flat-sawn {name}"),
        RingCut::Rift => format!("rift-sawn {name}"),
        RingCut::QuarterSawn => format!("quartersawn {name}"),
        RingCut::At(a) => format!("{name} with its rings at {} to the face", angle(a)),
    }
}

/// Different woods, each once, in their order.
fn woods<'a>(of: impl Iterator<Item = &'a WoodUse>) -> Vec<String> {
    let mut all = Vec::new();
    for one in of {
        let name = wood(one);
        if !all.contains(&name) {
            all.push(name);
        }
    }
    all
}
