//! `budswell serve`: a collection of one's own on localhost.

use std::path::Path;

use jiff::civil::Date;
use store::store::Store;

use crate::web;

/// Opens the folder and serves it until stopped.
pub fn run(data: &Path, port: u16, today: Option<Date>) -> anyhow::Result<()> {
    let store = Store::open(data)?;
    web::serve(web::App::new(store, today)?, port)
}
