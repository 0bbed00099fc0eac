//! Photos of pots: their front, their mark, their base.

use collection::ware::{PotPhoto, PotSide};
use jiff::civil::Date;
use store::store::{Act, Store};

use super::{day_if, known_pot, word_if};
use crate::{
    photo::{Sent, free_key},
    record::{FormError, bad},
};

/// Keeps a photo of a pot; the very same photo twice is kept once. Without a side it shows the front, without a day the camera is believed.
///
/// # Errors
///
/// [`FormError`] naming what cannot be taken; then nothing was kept.
pub fn pot_photo<'a>(
    store: &mut Store,
    pot: &str,
    photo: impl Into<Sent<'a>>,
    side: &str,
    day: &str,
    today: Date,
) -> Result<PotPhoto, FormError> {
    let (pot, _) = known_pot(&store.reader()?, pot)?;
    let typed = day_if(day, today)?;
    let side = word_if("photo of", side, PotSide::from_key)?.unwrap_or(PotSide::Front);
    let taken = photo.into().opened()?;
    let day = typed.or(taken.day.filter(|day| *day <= today)).unwrap_or(today);
    let mut photo =
        PotPhoto { key: String::new(), pot: pot.key.clone(), day, side, wide: taken.wide, high: taken.high };
    store.transact(&Act::PotPhoto(pot.key.clone()), |change| {
        let keys = change.pot_photo_keys(&pot.key)?;
        photo.key = free_key(&format!("{}-{}-{day}", pot.key, side.key()), &keys);
        if !change.add_pot_photo(&photo, &taken.hash, [&taken.full, &taken.small])? {
            return Err(bad("photo", "", "is kept for this pot already"));
        }
        Ok::<(), FormError>(())
    })?;
    Ok(photo)
}

/// Takes a photo of a pot back.
///
/// # Errors
///
/// [`FormError`] when there is no such photo of the pot.
pub fn remove_pot_photo(store: &mut Store, pot: &str, key: &str) -> Result<(), FormError> {
    let known = store.reader()?.pot_photos()?.iter().any(|photo| photo.key == key && photo.pot == pot);
    if !known {
        return Err(bad("photo", key, "is not one of this pot"));
    }
    Ok(store.transact(&Act::PotPhoto(pot.into()), |change| change.remove_pot_photo(key))?)
}
