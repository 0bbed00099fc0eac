//! The site's one row.

use collection::site::Site;
use measure::quantity::{Degrees, Metre, Units};
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// The site, once it was set.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn site(&self) -> Result<Option<Site>, Error> {
        let found = row::rows(&self.db, include_str!("site/get.sql"), [], |row| {
            let units: String = row.get(5)?;
            Ok(Site {
                name: row.get(0)?,
                latitude: Degrees(row.get(1)?),
                longitude: Degrees(row.get(2)?),
                elevation: Metre(row.get(3)?),
                zone: row.get(4)?,
                units: row::word("site", "system of units", &units, Units::from_key)?,
            })
        })?;
        Ok(found.into_iter().next())
    }
}

impl Change<'_> {
    /// Sets the site; true if it changed.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn set_site(&self, site: &Site) -> Result<bool, Error> {
        let given = params![
            site.name,
            site.latitude.0,
            site.longitude.0,
            site.elevation.0,
            site.zone,
            site.units.key()
        ];
        Ok(self.tx.execute(include_str!("site/set.sql"), given)? > 0)
    }
}
