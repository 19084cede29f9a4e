//! `keepwright words`: the glossary.

use crate::columns::{Side, Table, paragraph};
use crate::desk::Desk;
use crate::failure::{Failure, Verdict};
use clap::Args;
use keepwright_model::shop::words::{Word, nearest, word, words};

/// Say what a trade word means, or list them all
#[derive(Debug, Args)]
pub(crate) struct Words {
    /// The word
    word: Vec<String>,
}

impl Words {
    /// Prints one entry or all.
    ///
    /// # Errors
    /// When the word is not in the glossary.
    pub(super) fn run(&self, desk: &mut Desk) -> Result<Verdict, Failure> {
        let asked = self.word.join(" ");
        if asked.is_empty() {
            let mut table = Table::new(&[("word", Side::Left), ("meaning", Side::Left)]);
            for w in words() {
                table.row([w.word.clone(), w.says.clone()]);
            }
            desk.data(&table.text())?;
            return Ok(Verdict::Fine);
        }
        let Some(found) = word(&asked) else {
            let near: Vec<String> = nearest(&asked, 3).into_iter().map(|w| w.word.clone()).collect();
            let remedy = if near.is_empty() {
                "leave the word out to see the whole glossary".to_owned()
            } else {
                format!("did you mean {}?", near.join(", "))
            };
            return Err(Failure::input(format!("`{asked}` is not in the glossary"), remedy));
        };
        desk.data(&entry(found))?;
        Ok(Verdict::Fine)
    }
}

fn entry(w: &Word) -> String {
    let also = if w.also.is_empty() { String::new() } else { format!(" (also {})", w.also.join(", ")) };
    paragraph(&format!("{}{also}: {}", w.word, w.says), 0)
}
