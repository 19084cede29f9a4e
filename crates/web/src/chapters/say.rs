//! A computed sentence: words, and numbers that can be asked where they come from.

use super::in_address;
use keepwright_model::job::Plan;

/// A stretch of a sentence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Bit {
    /// Words.
    Words(String),
    /// A number that nothing more is known of.
    Number(String),
    /// A number, and the part of its address under which its reason stands.
    Why(String, String),
}

/// A sentence in the making.
#[derive(Debug)]
pub(crate) struct Say<'p> {
    plan: &'p Plan,
    bits: Vec<Bit>,
}

impl<'p> Say<'p> {
    /// A sentence about a plan.
    pub(crate) const fn of(plan: &'p Plan) -> Self {
        Self { plan, bits: Vec::new() }
    }

    /// Words.
    pub(crate) fn words(mut self, words: impl Into<String>) -> Self {
        self.bits.push(Bit::Words(words.into()));
        self
    }

    /// A number.
    pub(crate) fn number(mut self, shown: impl Into<String>) -> Self {
        self.bits.push(Bit::Number(shown.into()));
        self
    }

    /// A number with the key of its reason; a plain number where the plan has no such reason.
    pub(crate) fn why(self, shown: impl Into<String>, key: &str) -> Self {
        if self.plan.reason(key).is_none() {
            return self.number(shown);
        }
        let mut this = self;
        this.bits.push(Bit::Why(shown.into(), in_address(key)));
        this
    }

    /// The sentence.
    pub(crate) fn done(self) -> Vec<Bit> {
        self.bits
    }
}
