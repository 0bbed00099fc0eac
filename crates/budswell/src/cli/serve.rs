//! `budswell serve`: a collection of one's own on localhost.

use std::path::Path;

use intake::fetch::Service;
use jiff::civil::Date;
use store::store::Store;

use crate::{cli::fetch::CACHE, web};

/// Opens the folder and serves it until stopped.
pub fn run(data: &Path, port: u16, today: Option<Date>) -> anyhow::Result<()> {
    let store = Store::open(data)?;
    web::serve(web::App::new(store, Service::open_meteo(data.join(CACHE)), today)?, port)
}
