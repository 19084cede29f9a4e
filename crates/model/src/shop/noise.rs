//! Noise at the machines: how long a level may last in a day by two published rules.

use crate::units::Minutes;

/// Whose rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoiseRule {
    /// NIOSH: 85 dBA for eight hours, half the time for every 3 dB more.
    Niosh,
    /// OSHA: 90 dBA for eight hours, half the time for every 5 dB more.
    Osha,
}

/// How long a level in dBA may last in a day.
///
/// # Source
/// NIOSH: 480 / 2^((L − 85) / 3); OSHA 29 CFR 1910.95: 480 / 2^((L − 90) / 5).
pub fn allowed(rule: NoiseRule, dba: f64) -> Minutes {
    let (level, step) = match rule {
        NoiseRule::Niosh => (85.0, 3.0),
        NoiseRule::Osha => (90.0, 5.0),
    };
    Minutes::minutes(480.0 / 2f64.powf((dba - level) / step))
}

/// A day's dose as a fraction of what the rule allows (1 is all of it), from time spent at each level in dBA.
pub fn dose(rule: NoiseRule, day: &[(Minutes, f64)]) -> f64 {
    day.iter().map(|(time, dba)| *time / allowed(rule, *dba)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows SH-06 and SH-07.
    #[test]
    fn rules() {
        assert!((allowed(NoiseRule::Osha, 95.0).value() - 240.0).abs() < 1e-9, "SH-06");
        assert!((allowed(NoiseRule::Osha, 100.0).value() - 120.0).abs() < 1e-9, "SH-06");
        let day = [(Minutes::minutes(20.0), 101.0), (Minutes::minutes(60.0), 92.0)];
        assert!((dose(NoiseRule::Niosh, &day) * 100.0 - 230.99).abs() < 0.01, "SH-07");
    }
}
