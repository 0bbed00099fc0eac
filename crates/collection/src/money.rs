//! Money as the grower writes it: so much of one currency.

use pot::fit::frame::Coins;

/// A currency, by its three letters of ISO 4217.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Currency([u8; 3]);

impl Currency {
    /// The currency of these three letters.
    ///
    /// ```
    /// use collection::money::Currency;
    ///
    /// assert_eq!(Currency::from_key("eur").unwrap().key(), "EUR");
    /// assert!(Currency::from_key("€").is_none());
    /// ```
    pub fn from_key(key: &str) -> Option<Currency> {
        let letters: [u8; 3] = key.as_bytes().try_into().ok()?;
        letters
            .iter()
            .all(u8::is_ascii_alphabetic)
            .then(|| Currency(letters.map(|letter| letter.to_ascii_uppercase())))
    }

    /// Its three letters.
    pub fn key(&self) -> &str {
        std::str::from_utf8(&self.0).expect("made of ASCII letters")
    }
}

/// So much of a currency.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Money {
    /// Hundredths of the currency's unit.
    pub coins: Coins,
    /// Which currency.
    pub currency: Currency,
}

impl Money {
    /// The most that is taken: a guard of this house against a slip of the finger.
    pub const MOST: u64 = 10_000_000_000;

    /// Money as typed: `120`, `120.50`, with its currency after it.
    ///
    /// ```
    /// use collection::money::Money;
    ///
    /// assert_eq!(Money::from_words("80.5 CHF").unwrap().words(), "80.50 CHF");
    /// assert_eq!(Money::from_words("1200 chf").unwrap().words(), "1200 CHF");
    /// assert!(Money::from_words("80.505 CHF").is_none() && Money::from_words("-3 CHF").is_none());
    /// ```
    pub fn from_words(words: &str) -> Option<Money> {
        let (amount, currency) = words.trim().split_once(' ')?;
        let currency = Currency::from_key(currency.trim())?;
        let (whole, part) = amount.split_once('.').unwrap_or((amount, ""));
        let digits = |text: &str| text.bytes().all(|letter| letter.is_ascii_digit());
        if whole.is_empty() || part.len() > 2 || !digits(whole) || !digits(part) {
            return None;
        }
        let whole: u64 = whole.parse().ok()?;
        let part: u64 = format!("{part:0<2}").parse().ok()?;
        let coins = whole.checked_mul(100)?.checked_add(part)?;
        (coins <= Money::MOST).then_some(Money { coins: Coins(coins), currency })
    }

    /// The amount and the currency.
    pub fn words(&self) -> String {
        let Coins(coins) = self.coins;
        match coins % 100 {
            0 => format!("{} {}", coins / 100, self.currency.key()),
            part => format!("{}.{part:02} {}", coins / 100, self.currency.key()),
        }
    }
}
