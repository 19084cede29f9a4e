//! What the year does to a box: the air in its home, and what moves, gaps, bows and strains because of it.

mod climate;
mod home;
mod lamination;
mod miter;
mod movement;
mod panel;
mod restraint;
mod ring;

pub use climate::{Outdoor, Site, SiteError, site, sites};
pub use home::{Heated, Home, IndoorAir, Month, Season, Year};
pub use lamination::{Bend, Layer, layered, one_face_wetter, two_strip};
pub use miter::{MiterOpening, miter_opening};
pub use movement::{Along, FIBER_SATURATION, Law, Movement, across, along};
pub use panel::{Floating, FloatingPanel, floating_panel, panel_as_cut};
pub use restraint::{Frame, GluedAcross, Held, Load, Panel, glued_across, panel_in_frame};
pub use ring::{RoundPanel, ring_pressure};

use crate::units::{MoistureContent, RelativeHumidity, Temperature};
use thiserror::Error;

/// Why the seasons cannot be computed from what was stated.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Error {
    /// A relative humidity that no air has.
    #[error(
        "{home}: a relative humidity of {} % is not possible; state one above 0 and at most 100 %",
        humidity.to_percent()
    )]
    Humidity {
        /// The home's name.
        home: String,
        /// What was stated.
        humidity: RelativeHumidity,
    },
    /// A room temperature outside −20 to 60 °C.
    #[error("{home}: {} °C is not a room's temperature; state one from -20 to 60 °C", temperature.value())]
    Temperature {
        /// The home's name.
        home: String,
        /// What was stated.
        temperature: Temperature,
    },
    /// Two limits the wrong way round.
    #[error("{home}: {low} ({low_value}) is above {high} ({high_value}); swap them")]
    WrongWayRound {
        /// The home's name.
        home: String,
        /// The name of what must be the lower one.
        low: &'static str,
        /// Its value with its unit.
        low_value: String,
        /// The name of what must be the higher one.
        high: &'static str,
        /// Its value with its unit.
        high_value: String,
    },
    /// A moisture content that wood in a shop cannot have.
    #[error("a moisture content of {} % is out of range; wood for boxes lies between 0 and 30 %", moisture.to_percent())]
    Moisture {
        /// What was stated.
        moisture: MoistureContent,
    },
}
