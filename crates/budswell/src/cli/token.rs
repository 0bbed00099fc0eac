//! `budswell token`: which sensors may send readings.

use std::path::PathBuf;

use anyhow::bail;
use clap::Args;
use collection::reading::Sender;
use intake::token::{make, revoke};
use jiff::Timestamp;
use store::store::{FILE, Store};

use super::say;

/// Which collection, and what to do with its tokens.
#[derive(Args)]
pub struct Token {
    /// The collection's folder.
    #[arg(long)]
    pub data: PathBuf,
    #[command(flatten)]
    pub deed: Deed,
}

/// One of the three.
#[derive(Args)]
#[group(required = true, multiple = false)]
pub struct Deed {
    /// Make a token for a sensor of this name; it is printed once and not kept.
    #[arg(long)]
    pub name: Option<String>,
    /// List the sensors that may send.
    #[arg(long)]
    pub list: bool,
    /// Take the token of this sensor away; what it sent stays.
    #[arg(long)]
    pub revoke: Option<String>,
}

/// Makes, lists or revokes.
pub fn run(given: &Token) -> anyhow::Result<()> {
    if !given.data.join(FILE).is_file() {
        bail!("{} holds no collection", given.data.display());
    }
    let mut store = Store::open(&given.data)?;
    if let Some(name) = &given.deed.name {
        let token = make(&mut store, name, Timestamp::now().as_second())?;
        say::refuse!("The token of {}; it is not kept, so note it now:", name.trim());
        say::say!("{token}");
    } else if let Some(name) = &given.deed.revoke {
        revoke(&mut store, name)?;
        say::say!("{} can send no more; what it sent stays", name.trim());
    } else {
        store.reader()?.senders()?.iter().for_each(tell);
    }
    Ok(())
}

fn tell(sender: &Sender) {
    let moment = |at| Timestamp::from_second(at).map_or_else(|_| String::new(), |at| at.to_string());
    let sent =
        sender.last_sent.map_or_else(|| "nothing sent yet".into(), |at| format!("last sent {}", moment(at)));
    say::say!("{}: made {}, {sent}", sender.name, moment(sender.made));
}
