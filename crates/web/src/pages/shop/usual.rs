//! What holds where the shop file says nothing: shown in the empty fields.

use keepwright_model::design::ShopFile;
use keepwright_model::job::Shop;
use keepwright_model::shop::glue::Glue;
use keepwright_model::units::{Length, Money};
use keepwright_packet::shown::Showing;

/// The defaults, and how this shop reads them.
pub(crate) struct Usual {
    /// The shop file of a shop that states nothing.
    pub(crate) file: ShopFile,
    /// The glue as it will be used: a known glue brings times of its own.
    pub(crate) glue: Glue,
    /// An hour of work while nobody states it.
    pub(crate) rate: Money,
    showing: Showing,
}

impl Usual {
    /// The defaults as a shop shows them.
    pub(crate) fn of(shop: &Shop) -> Self {
        Self {
            file: ShopFile::default(),
            glue: shop.bench.gluing.glue.clone(),
            rate: Shop::small_shop().bench.rate,
            showing: super::say::showing(shop),
        }
    }

    /// A length in both units, the shop's first.
    pub(crate) fn length(&self, length: Length) -> String {
        self.showing.both(length)
    }

    /// The code of the shop's currency.
    pub(crate) fn currency(&self) -> String {
        self.showing.currency.code().to_owned()
    }

    /// An amount with its currency.
    pub(crate) fn money(&self, money: Money) -> String {
        self.showing.money(money)
    }

    /// A number as short as it can be written.
    pub(crate) fn number(value: f64) -> String {
        let rounded = (value * 1e6).round() / 1e6;
        format!("{rounded}")
    }
}
