//! Places for connections: so many in all, and so many for one address, so that no device keeps the others out.

use std::collections::BTreeMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex, PoisonError};

/// Connections at once; a tablet and a browser use about a dozen.
pub(crate) const MOST: usize = 256;
/// Of these, what other machines may have together: the rest is kept for this one.
const MOST_ELSEWHERE: usize = 192;
/// What one other address may have.
const MOST_EACH: usize = 48;

/// The connections that are open now, by address.
#[derive(Clone, Debug, Default)]
pub(crate) struct Places(Arc<Mutex<BTreeMap<IpAddr, usize>>>);

/// A place taken; given back when dropped.
#[derive(Debug)]
pub(crate) struct Place {
    of: Places,
    address: IpAddr,
}

impl Places {
    /// A place for an address, if there is one.
    pub(crate) fn take(&self, address: IpAddr) -> Option<Place> {
        let address = address.to_canonical();
        // A thread that panicked with the map in hand left counts that are right.
        let mut taken = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let all: usize = taken.values().sum();
        let elsewhere: usize = taken.iter().filter(|(a, _)| !a.is_loopback()).map(|(_, n)| n).sum();
        let own = taken.get(&address).copied().unwrap_or(0);
        let full = all >= MOST || !address.is_loopback() && (elsewhere >= MOST_ELSEWHERE || own >= MOST_EACH);
        if full {
            return None;
        }
        taken.insert(address, own + 1);
        Some(Place { of: self.clone(), address })
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut taken = self.of.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(count) = taken.get_mut(&self.address) {
            *count -= 1;
            if *count == 0 {
                taken.remove(&self.address);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn address(last: u8) -> IpAddr {
        IpAddr::from([192, 168, 7, last])
    }

    #[test]
    fn one_device_cannot_keep_the_others_out() {
        let places = Places::default();
        let greedy: Vec<Place> = std::iter::from_fn(|| places.take(address(1))).take(1000).collect();
        assert_eq!(greedy.len(), MOST_EACH);
        assert!(places.take(address(2)).is_some());
        assert!(
            places.take(IpAddr::from([0, 0, 0, 0, 0, 0xffff, 0xc0a8, 0x0701])).is_none(),
            "the same, as IPv6"
        );
        drop(greedy);
        assert!(places.take(address(1)).is_some());
    }

    #[test]
    fn a_whole_network_cannot_keep_this_machine_out() {
        let places = Places::default();
        let mut crowd: Vec<Place> = Vec::new();
        for last in 0..=255 {
            crowd.extend(std::iter::from_fn(|| places.take(address(last))).take(MOST_EACH));
        }
        assert_eq!(crowd.len(), MOST_ELSEWHERE);
        let here: IpAddr = [127, 0, 0, 1].into();
        let own: Vec<Place> = std::iter::from_fn(|| places.take(here)).take(1000).collect();
        assert_eq!(own.len(), MOST - MOST_ELSEWHERE);
        drop(crowd);
        assert!(places.take(here).is_some());
        drop(own);
        assert!(places.0.lock().unwrap().is_empty());
    }
}
