//! `budswell import`: a file into a collection, by the same door as a page upload.

use std::{fs, path::PathBuf};

use anyhow::{Context, bail};
use clap::Args;
use intake::import::{ImportError, Kind, Options, import, preview};
use store::store::Store;
use view::words::count;

/// What to take in.
#[derive(Args)]
pub struct Import {
    /// The collection's folder; made if it is not there.
    #[arg(long)]
    pub data: PathBuf,
    /// What the file holds: site, places, trees, moves, looks, work, pots, mixes, potted, crowns,
    /// water, away, weather or logger; of branches limbs, calipers, fronts, aims, intentions, cuts, wires, coils, layers,
    /// wounds, scales or traces.
    #[arg(long)]
    pub kind: String,
    /// The place a logger hung in.
    #[arg(long, default_value = "")]
    pub place: String,
    /// Only say what would be taken.
    #[arg(long)]
    pub preview: bool,
    /// Leave out lines that cannot be taken, and take the rest.
    #[arg(long)]
    pub leave_out: bool,
    /// The unit of temperatures that name none: c, f or k.
    #[arg(long, value_name = "c|f|k")]
    pub unit: Option<String>,
    /// How a logger's dates run where they do not show it: day-first or month-first.
    #[arg(long, value_name = "day-first|month-first")]
    pub dates: Option<String>,
    /// Refuse different values for one moment in weather and logger files, where otherwise one is taken and reported.
    #[arg(long)]
    pub strict: bool,
    /// The file.
    pub file: PathBuf,
}

/// Takes the file in, or names every line that stands in the way.
pub fn run(given: &Import) -> anyhow::Result<()> {
    let place = collection::key::from_name(&given.place);
    let kind = Kind::from_key(&given.kind, &place)
        .with_context(|| format!("no kind of file is called “{}”", given.kind))?;
    let bytes = fs::read(&given.file).with_context(|| format!("cannot read {}", given.file.display()))?;
    let name = given.file.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let answers = [("unit", given.unit.as_deref()), ("dates", given.dates.as_deref())];
    let options = Options { leave_out: given.leave_out, strict: given.strict, ..Options::default() };
    let options = options.answered(&answers).map_err(anyhow::Error::msg)?;
    let mut store = Store::open(&given.data)?;
    if given.preview {
        let told = preview(&store.reader()?, &kind, &name, &bytes, &options)?;
        println!("{}: {}", told.format, count(told.rows, "row", "rows"));
        if let Some((first, last)) = told.span {
            println!("from {first} to {last}");
        }
        told.notes.iter().for_each(|note| println!("note: {note}"));
        told.questions.iter().for_each(|question| println!("{name}: {question}"));
        told.refused.iter().for_each(|refusal| println!("{name}, {refusal}"));
        return Ok(());
    }
    match import(&mut store, &kind, &name, &bytes, &options) {
        Ok(done) => {
            println!(
                "{name}: {}, {} new or changed, {} left out",
                count(done.rows, "row", "rows"),
                done.added,
                done.left_out
            );
            Ok(())
        }
        Err(ImportError::Refused(refused)) => {
            refused.iter().for_each(|refusal| eprintln!("{name}, {refusal}"));
            bail!(
                "{} cannot be taken; nothing was imported (--leave-out takes the rest)",
                count(refused.len(), "line", "lines")
            )
        }
        Err(ImportError::Unclear(questions)) => {
            questions.iter().for_each(|question| eprintln!("{name}: {question}"));
            bail!("nothing was imported; add the option that is right and run it again")
        }
        Err(ImportError::Store(why)) => Err(why.into()),
    }
}
