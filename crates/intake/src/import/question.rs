//! What an import may be told beforehand, and what it must ask when a file does not say how its numbers are meant.

use std::fmt;

use crate::{
    asked::SURE,
    logger::{Order, Scale},
};

/// What the grower decided about a file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// Lines that cannot be read are left out on purpose, and the rest is imported.
    pub leave_out: bool,
    /// Rows that differ from what is in the collection change it, where otherwise they are refused by line.
    pub update: bool,
    /// Two different values for one moment are refused, where otherwise one is taken and the file's preview says so.
    pub strict: bool,
    /// The scale of temperatures whose scale the file does not name.
    pub scale: Option<Scale>,
    /// Which of the first two numbers of a date is the day, where the file does not show it.
    pub order: Option<Order>,
    /// The grower said that moves of past days may change the winters of trees.
    pub winters: bool,
    /// The moment of the import, seconds since 1970; the computer's clock where it is none. Days of a sheet may not lie after it.
    pub now: Option<i64>,
}

impl Options {
    /// The options with the answers to questions, each by the question's option and the chosen key; an empty answer is none.
    ///
    /// # Errors
    ///
    /// An answer that the question does not offer.
    ///
    /// ```
    /// use intake::{import::Options, logger::Scale};
    ///
    /// let options = Options::default().answered(&[("unit", Some("f")), ("dates", None)]).unwrap();
    /// assert_eq!(options.scale, Some(Scale::Fahrenheit));
    /// assert!(options.answered(&[("unit", Some("warm"))]).is_err());
    /// ```
    pub fn answered(mut self, answers: &[(&str, Option<&str>)]) -> Result<Options, String> {
        for (option, answer) in answers {
            let Some(answer) = answer.filter(|answer| !answer.is_empty()) else { continue };
            match *option {
                "unit" => self.scale = Some(Scale::from_key(answer).ok_or("a unit is c, f or k")?),
                "dates" => {
                    self.order = Some(Order::from_key(answer).ok_or("dates are day-first or month-first")?)
                }
                "winters" if answer == SURE => self.winters = true,
                "winters" => return Err(format!("the answer is {SURE}, or leave it and change the file")),
                other => return Err(format!("there is no option called {other}")),
            }
        }
        Ok(self)
    }
}

/// Something a file does not say and that decides what its numbers mean; nothing is written until it is answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportQuestion {
    /// The option that answers it: a field of the form, and a flag of the command.
    pub option: &'static str,
    /// What is not known, in a sentence.
    pub words: String,
    /// The possible answers.
    pub choices: Vec<Choice>,
    /// The key of the answer that is safe to go by; where there is none, nothing is written without an answer.
    pub likely: Option<&'static str>,
}

/// One possible answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// What the option is set to.
    pub key: &'static str,
    /// What the file would mean then.
    pub words: String,
}

/// Trees that a question names.
const NAMED: usize = 8;

impl ImportQuestion {
    /// The question that moves of past days ask which change winters, `changed` saying of each tree what.
    pub fn winters(changed: &[String]) -> ImportQuestion {
        ImportQuestion {
            option: "winters",
            words: format!(
                "These moves are of past days and change the winter of {}{}. Is that so?",
                changed[..changed.len().min(NAMED)].join("; "),
                match changed.len().saturating_sub(NAMED) {
                    0 => String::new(),
                    more => format!("; and of {more} more"),
                }
            ),
            choices: vec![Choice { key: SURE, words: "Yes, they stood there then".into() }],
            likely: None,
        }
    }
}

impl fmt::Display for ImportQuestion {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)?;
        self.choices.iter().try_for_each(|it| write!(f, "\n  --{} {}: {}", self.option, it.key, it.words))
    }
}
