//! Wood itself: species and sheet goods, moisture, air, stiffness, and what each number rests on.
//!
//! The numbers stand in `data/`, each with its provenance; a missing number is missing here too.

mod air;
mod coefficient;
mod elastic;
mod emc;
mod finish;
mod harm;
mod names;
mod provenance;
mod screw;
mod sheet;
mod species;
mod table;

pub use air::{
    HumidityRatio, STANDARD_PRESSURE, Saturation, humidity_ratio, relative_humidity, saturation_pressure,
};
pub use coefficient::{Coefficient, coefficient, coefficient_at_most};
pub use elastic::{Elastic, Scatter, elastic, scatter};
pub use emc::{emc, rh_for_emc};
pub use finish::{Exclusion, finishes};
pub use harm::{Harm, HarmKind};
pub use names::{Alias, aliases, named, nearest_names, nearest_of, species};
pub use provenance::{Figure, Provenance, Source, source};
pub use screw::{screw_allowable, screw_shank, screw_withdrawal};
pub use sheet::{Sheet, sheet, sheets};
pub use species::{Bonding, Group, Shrinkage, Species, all};

pub(crate) use names::plain;
pub(crate) use table::Rows;

use thiserror::Error;

/// Why a number about wood cannot be given.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Error {
    /// The table has no such number for this species.
    #[error("no {what} is known for {species}; {instead}")]
    Unknown {
        /// The missing number, in trade words.
        what: &'static str,
        /// The species' common name.
        species: &'static str,
        /// What to do instead.
        instead: &'static str,
    },
}
