//! The care card: what goes to the buyer with the box.

use super::finish::FinishPlan;
use super::say;
use crate::reason::Basis;

/// One sentence of the care card.
#[derive(Clone, Debug, PartialEq)]
pub struct CareLine {
    /// The sentence.
    pub says: String,
    /// Where it comes from.
    pub basis: Basis,
}

/// What the card is made from.
#[derive(Clone, Copy, Debug)]
pub struct Care<'a> {
    /// Plain names of the woods in it.
    pub woods: &'a [String],
    /// Its finish.
    pub finish: &'a FinishPlan,
    /// It holds magnets.
    pub magnets: bool,
}

/// The lines of the card.
pub fn care_card(care: &Care<'_>) -> Vec<CareLine> {
    let mut out = Vec::new();
    let mut line = |says: String, basis| out.push(CareLine { says, basis });
    if !care.woods.is_empty() {
        line(format!("Made of {}.", list(care.woods)), Basis::Stated);
    }
    let mut finishes: Vec<String> = Vec::new();
    for c in &care.finish.coats {
        if !finishes.contains(&c.product.name) {
            finishes.push(c.product.name.clone());
        }
    }
    if finishes.is_empty() {
        line("The wood is bare: dust it dry, keep damp cloths away.".into(), Basis::CommonPractice);
    } else {
        line(
            format!("Finished with {}. Dust it with a soft dry cloth; no silicone polish.", list(&finishes)),
            Basis::CommonPractice,
        );
    }
    line(
        "Wood moves with the air: keep it between 40 and 60 percent relative humidity, away from heaters, damp walls and sun. A lid that \
         binds in a damp week comes free again; do not plane it."
            .into(),
        Basis::Published("museum conservation advice for wood, 40 to 60 percent relative humidity"),
    );
    line(
        "Sunlight changes the color of every wood; turn the box now and then.".into(),
        Basis::CommonPractice,
    );
    if care.finish.coats.iter().any(|c| c.product.id == "wax") {
        line(
            "Once a year a thin coat of paste wax, buffed, renews the surface.".into(),
            Basis::CommonPractice,
        );
    }
    line(
        "Silver, lead, pearls and old papers do not like raw oak, chestnut or cedar, nor wool felt: wrap them.".into(),
        Basis::Published("Yale Peabody Museum and NEDCC advice on storage woods, 1999"),
    );
    if care.magnets {
        line(
            format!(
                "It holds magnets: swallowed they can kill a child. Keep it from small children. {}",
                say::FIRST
            ),
            Basis::CommonPractice,
        );
    }
    out
}

fn list(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::super::finish::{Finishing, finish_plan};
    use super::*;
    use crate::design::{Coat, Finish, FinishKind};
    use crate::units::Area;

    #[test]
    fn the_card_follows_the_box() {
        let card = |outside, magnets| {
            let finish =
                Finish { outside, inside: Coat { kind: FinishKind::None, coats: 0 }, inside_first: false };
            let plan = finish_plan(&Finishing {
                finish: &finish,
                outside: Area::mm2(1e5),
                inside: Area::ZERO,
                floating: &[],
                shellac_cut: 2.0,
            })
            .value;
            let woods = ["cherry".into(), "holly".into(), "ash".into()];
            care_card(&Care { woods: &woods, finish: &plan, magnets })
        };
        let waxed = card(Coat { kind: FinishKind::OilAndWax, coats: 2 }, true);
        let says = |c: &[CareLine], what: &str| c.iter().any(|l| l.says.contains(what));
        assert!(
            says(&waxed, "cherry, holly and ash") && says(&waxed, "paste wax") && says(&waxed, "magnets")
        );
        assert!(says(&waxed, "40 and 60 percent"));
        let bare = card(Coat { kind: FinishKind::None, coats: 0 }, false);
        assert!(says(&bare, "bare") && !says(&bare, "magnets") && !says(&bare, "Finished with"));
    }
}
