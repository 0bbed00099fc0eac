//! `budswell serve`: a collection of one's own on localhost.

use std::{fs, path::Path};

use anyhow::Context;
use intake::fetch::Service;
use jiff::civil::Date;
use store::{lock::Lock, store::Store};

use crate::{cli::fetch::CACHE, web};

/// Opens the folder and serves it until stopped; one server for each folder.
pub fn run(data: &Path, port: u16, today: Option<Date>) -> anyhow::Result<()> {
    fs::create_dir_all(data).with_context(|| format!("cannot make {}", data.display()))?;
    let _only = Lock::serving(data)?;
    let store = Store::open(data)?;
    web::serve(web::App::new(store, Service::open_meteo(data.join(CACHE)), today)?, port)
}
