//! Money in whole minor units of one currency.

use core::fmt;
use core::iter::Sum;
use core::ops::{Add, AddAssign, Sub};

/// A currency by its ISO 4217 code, with the number of decimals of its minor unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Currency {
    code: [u8; 3],
    decimals: u8,
}

impl Currency {
    /// United States dollar.
    pub const USD: Self = Self {
        code: *b"USD",
        decimals: 2,
    };

    /// From an ISO 4217 code such as `USD`, `EUR`, `JPY`; `None` if it is not three capital letters.
    ///
    /// # Source
    /// ISO 4217: most currencies have two decimals; those listed here have none or three.
    pub fn from_code(code: &str) -> Option<Self> {
        let bytes: [u8; 3] = code.as_bytes().try_into().ok()?;
        if !bytes.iter().all(u8::is_ascii_uppercase) {
            return None;
        }
        let decimals = match code {
            "JPY" | "KRW" | "ISK" | "CLP" | "VND" | "XAF" | "XOF" | "PYG" | "UGX" => 0,
            "KWD" | "BHD" | "JOD" | "OMR" | "TND" => 3,
            _ => 2,
        };
        Some(Self {
            code: bytes,
            decimals,
        })
    }

    /// The ISO 4217 code.
    pub fn code(&self) -> &str {
        core::str::from_utf8(&self.code).unwrap_or("???")
    }

    /// Minor units in one major unit.
    pub fn minor_per_major(self) -> f64 {
        10f64.powi(i32::from(self.decimals))
    }
}

/// An amount in whole minor units (cents); the currency is the shop's and is kept beside it, once.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Money(i64);

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// From whole minor units.
    pub const fn minor(value: i64) -> Self {
        Self(value)
    }

    /// In whole minor units.
    pub const fn to_minor(self) -> i64 {
        self.0
    }

    /// Rounds an amount in major units to whole minor units, halves away from zero.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "`as` saturates, which is the wanted bound"
    )]
    pub fn from_major(value: f64, currency: Currency) -> Self {
        Self((value * currency.minor_per_major()).round() as i64)
    }

    /// In major units.
    pub fn to_major(self, currency: Currency) -> f64 {
        self.0 as f64 / currency.minor_per_major()
    }

    /// This amount times a number, rounded to whole minor units, halves away from zero.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "`as` saturates, which is the wanted bound"
    )]
    pub fn times(self, by: f64) -> Self {
        Self((self.0 as f64 * by).round() as i64)
    }

    /// As text with its currency code, such as `USD 181.30`.
    pub fn show(self, currency: Currency) -> impl fmt::Display {
        let decimals = usize::from(currency.decimals);
        format!("{} {:.*}", currency.code(), decimals, self.to_major(currency))
    }
}

impl Add for Money {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}
impl AddAssign for Money {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}
impl Sub for Money {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}
impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, |a, b| a + b)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shows_the_minor_unit_of_its_currency() {
        assert_eq!(Money::minor(18_130).show(Currency::USD).to_string(), "USD 181.30");
        let yen = Currency::from_code("JPY").unwrap();
        assert_eq!(Money::from_major(1200.4, yen).show(yen).to_string(), "JPY 1200");
        assert_eq!(Currency::from_code("usd"), None);
    }
}
