//! Numbers as the page gets them: short, and never a minus zero.

use keepwright_model::space::{Pose, Vec3};
use serde::{Serialize, Serializer};

/// A number to a ten-thousandth: a length in millimeters to 0.1 µm, or a component of a direction.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Short(f64);

/// Steps of a number in one.
const STEPS: f64 = 1e4;
/// Larger numbers keep their fractions: a whole number up to here is written without a point.
const WHOLE: f64 = 1e9;

impl Short {
    /// Nothing.
    pub(super) const ZERO: Self = Self(0.0);
    /// One.
    pub(super) const ONE: Self = Self(1.0);

    /// The nearest ten-thousandth; what is no finite number becomes zero, since JSON has no word for it.
    pub fn of(value: f64) -> Self {
        // Adding zero turns a rounded "-0" into "0".
        let rounded = (value * STEPS).round() / STEPS + 0.0;
        Self(if rounded.is_finite() { rounded } else { 0.0 })
    }

    /// The value.
    pub const fn value(self) -> f64 {
        self.0
    }
}

impl Serialize for Short {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.0.fract().abs() > 0.0 || self.0.abs() > WHOLE {
            return serializer.serialize_f64(self.0);
        }
        #[expect(clippy::cast_possible_truncation, reason = "a whole number within ±1e9")]
        serializer.serialize_i64(self.0 as i64)
    }
}

/// The components of a point or direction.
pub(super) fn vector(v: Vec3) -> [Short; 3] {
    [v.x, v.y, v.z].map(Short::of)
}

/// Origin, u, v, w of a pose, in a row.
pub(super) fn pose(pose: &Pose) -> [Short; 12] {
    let [a, b, c, d] = [pose.origin, pose.u, pose.v, pose.w].map(vector);
    [a[0], a[1], a[2], b[0], b[1], b[2], c[0], c[1], c[2], d[0], d[1], d[2]]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_short() {
        struct Case {
            value: f64,
            want: &'static str,
        }
        for case in [
            Case { value: 286.0, want: "286" },
            Case { value: -0.00001, want: "0" },
            Case { value: 12.497_349_9, want: "12.4973" },
            Case { value: -0.5, want: "-0.5" },
            Case { value: f64::NAN, want: "0" },
            Case { value: f64::MAX, want: "0" },
        ] {
            let got = serde_json::to_string(&Short::of(case.value)).unwrap();
            assert_eq!(got, case.want, "{}", case.value);
        }
    }
}
