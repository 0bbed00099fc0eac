//! What lies in the shed, and what mixes are made of.

use collection::stock::{Blend, Item, Stock};
use jiff::civil::Date;
use pot::table::Component;
use store::store::{Act, Store};

use super::{day_or_today, known_mix, word};
use crate::{
    limits::{DELIVERY, LEFT, PACK, PARTS},
    record::{FormError, bad, number},
};

/// What lies in the shed as typed, in the item's own unit.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct StockForm<'a> {
    pub item: &'a str,
    pub left: &'a str,
    /// What a bag or a coil holds.
    pub pack: &'a str,
    /// Days from the order to the door.
    pub delivery: &'a str,
    /// Empty for today.
    pub day: &'a str,
}

/// Writes down how much of an item is left.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn stock(store: &mut Store, form: StockForm<'_>, today: Date) -> Result<(), FormError> {
    let typed = |typed: &str| !typed.trim().is_empty();
    let it = Stock {
        item: word("item", form.item, Item::from_key)?,
        left: number("left", form.left, LEFT[0], LEFT[1])?,
        pack: if typed(form.pack) { Some(number("pack", form.pack, PACK[0], PACK[1])?) } else { None },
        delivery: match form.delivery.trim() {
            "" => None,
            told => {
                let days = told.parse().ok().filter(|days: &u16| u32::from(*days) <= DELIVERY[1]);
                Some(days.ok_or_else(|| {
                    bad("delivery", told, format!("is not a number of days up to {}", DELIVERY[1]))
                })?)
            }
        },
        day: day_or_today(form.day, today)?,
    };
    store.transact(&Act::Stock(it.item.key()), |change| change.set_stock(&it))?;
    Ok(())
}

/// Writes down what a mix is made of, by volume; components with nothing typed beside them are left out.
///
/// # Errors
///
/// [`FormError`] when the mix is not known, a component stands twice, or there is none.
pub fn blend(store: &mut Store, mix: &str, parts: &[(&str, &str)]) -> Result<(), FormError> {
    let mix = known_mix(&store.reader()?, mix)?;
    let mut it = Blend { mix: mix.clone(), parts: Vec::new() };
    for (component, typed) in parts.iter().filter(|(_, typed)| !matches!(typed.trim(), "" | "0")) {
        let told = word("component", component, Component::from_key)?;
        if it.parts.iter().any(|(other, _)| *other == told) {
            return Err(bad("component", component, "stands twice"));
        }
        it.parts.push((told, number("parts", typed, PARTS[0], PARTS[1])?));
    }
    if it.parts.is_empty() {
        return Err(bad("parts", "", "name no component; a mix is made of something"));
    }
    store.transact(&Act::Blend(mix), |change| change.set_blend(&it))?;
    Ok(())
}
