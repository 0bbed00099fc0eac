//! What is said of a pot and a tree in a season, and which of two pots was liked better.

use collection::{
    reserve::{Liking, Reservation, Said},
    ware::Whereabouts,
};
use jiff::civil::Date;
use store::store::{Act, Store};

use super::{Ask, known_pot, season, version, word};
use crate::{
    asked::with_reason,
    limits::LONG,
    record::{FormError, bad, known_tree, text},
};

/// A word on a pot and a tree as typed; `revision` is that of the pot's record.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct ReserveForm<'a> {
    pub pot: &'a str,
    pub tree: &'a str,
    pub season: &'a str,
    pub said: &'a str,
    pub why: &'a str,
    pub revision: &'a str,
    /// Why it is said though it was asked about.
    pub despite: &'a str,
}

/// Why a word on a pot and a tree was not kept.
#[derive(Debug, thiserror::Error)]
pub enum ReserveError {
    /// A field that cannot be taken, or the store's no.
    #[error(transparent)]
    Form(#[from] FormError),
    /// It can be kept with a reason; nothing was.
    #[error(transparent)]
    Asked(#[from] Ask),
}

impl From<store::error::Error> for ReserveError {
    fn from(why: store::error::Error) -> ReserveError {
        ReserveError::Form(why.into())
    }
}

/// Says something of a pot and a tree in a season, starting from the version of the pot's record that the form was made from. `unfit`
/// tells why the pot cannot hold this tree by the hard limits; none where it can, or nobody can say.
///
/// # Errors
///
/// [`ReserveError`]: of two edits begun from one version the second is refused, and so is a second tree for a pot that is held. A pot
/// that cannot hold its tree is asked about until `despite` says why, and the reason is kept.
pub fn reserve(
    store: &mut Store,
    form: ReserveForm<'_>,
    unfit: Option<&str>,
    today: Date,
) -> Result<Reservation, ReserveError> {
    let (pot, ware) = known_pot(&store.reader()?, form.pot)?;
    let mut it = Reservation {
        pot: pot.key.clone(),
        tree: known_tree(store, form.tree)?,
        season: season(form.season, today)?,
        said: word("word", form.said, Said::from_key)?,
        why: text("why", form.why, LONG)?,
        made: today,
    };
    if ware.training {
        let why = "is a training pot, which is taken as needed and never reserved";
        return Err(bad("pot", &pot.name, why).into());
    }
    if ware.whereabouts != Whereabouts::Shelf && it.said != Said::Never {
        return Err(bad("pot", &pot.name, format!("is {}", ware.whereabouts.words())).into());
    }
    if let Some(why) = unfit.filter(|_| it.said.holds()) {
        if form.despite.trim().is_empty() {
            return Err(Ask::Unfit(why.into()).into());
        }
        it.why = with_reason(&it.why, form.despite)?;
    }
    let revision = version(form.revision)?;
    store.transact(&Act::Reserve(pot.key), |change| change.reserve(&it, revision))?;
    Ok(it)
}

/// Takes back what was said of a pot and a tree in a season.
///
/// # Errors
///
/// [`FormError`] when nothing was said, or the pot's record has moved on.
pub fn unreserve(
    store: &mut Store,
    [pot, tree]: [&str; 2],
    season: &str,
    revision: &str,
) -> Result<(), FormError> {
    let year: i16 = season.trim().parse().map_err(|_| bad("season", season, "is not a year"))?;
    let revision = version(revision)?;
    Ok(store.transact(&Act::Unreserve(pot.into()), |change| change.unreserve(pot, tree, year, revision))?)
}

/// Writes down that for a tree one pot was liked better than another.
///
/// # Errors
///
/// [`FormError`] when tree or pots are not known, or they are one pot.
pub fn like(
    store: &mut Store,
    tree: &str,
    liked: &str,
    over: &str,
    today: Date,
) -> Result<Liking, FormError> {
    let reader = store.reader()?;
    let (liked, over) = (known_pot(&reader, liked)?.0.key, known_pot(&reader, over)?.0.key);
    drop(reader);
    if liked == over {
        return Err(bad("pot", &liked, "cannot be liked better than itself"));
    }
    let it = Liking { tree: known_tree(store, tree)?, liked, over, day: today };
    store.transact(&Act::Like(it.tree.clone()), |change| change.add_liking(&it))?;
    Ok(it)
}
