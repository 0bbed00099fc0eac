//! `budswell import`: a file into a collection, by the same door as a page upload.

use std::{fs, path::PathBuf};

use anyhow::{Context, bail};
use clap::Args;
use intake::{
    import::{ImportError, ImportFile, ImportQuestion, Kind, OTHERS, Options, Preview, preview, take_in},
    sheet::table,
};
use jiff::{Timestamp, tz::TimeZone};
use store::store::Store;
use view::{whole::whole, words::count};

use super::say;

/// What to take in.
#[derive(Args)]
pub struct Import {
    /// The collection's folder; made if it is not there.
    #[arg(long, required_unless_present = "example")]
    pub data: Option<PathBuf>,
    /// What the file holds: one of the kinds that --help lists with their columns.
    #[arg(long, required_unless_present = "example")]
    pub kind: Option<String>,
    /// Print an example file of this kind, and stop.
    #[arg(long, value_name = "KIND", exclusive = true)]
    pub example: Option<String>,
    /// The place a logger hung in.
    #[arg(long, default_value = "")]
    pub place: String,
    /// The name of a logger's sensor, where a place has more than one.
    #[arg(long, default_value = "")]
    pub sensor: String,
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
    /// Say yes to moves of past days that change the winters of trees.
    #[arg(long, value_name = "yes")]
    pub winters: Option<String>,
    /// Refuse different values for one moment in weather and logger files, where otherwise one is taken and reported.
    #[arg(long)]
    pub strict: bool,
    /// Let rows change records that differ from them; empty cells leave what is in the collection.
    #[arg(long)]
    pub update: bool,
    /// The file.
    #[arg(required_unless_present = "example")]
    pub file: Option<PathBuf>,
}

/// Every kind of file with its columns, for the help.
pub fn kinds() -> String {
    let mut text = String::from("Kinds of files (a star marks a column that the sheet must have):\n\n");
    for format in table::all() {
        text.push_str(&format.help());
        text.push('\n');
    }
    for (key, words, _) in OTHERS {
        text.push_str(&format!("{key}: {words}\n"));
    }
    text.push_str(
        "\nSheets are CSV with commas, semicolons or tabs, in UTF-8, UTF-16 or Windows-1252. --example KIND prints one of a kind.\n",
    );
    text
}

/// An example of a kind of file.
fn example(key: &str) -> anyhow::Result<&'static str> {
    let other = OTHERS.iter().find(|(other, ..)| *other == key).map(|(.., example)| *example);
    let found = table::of(key).map(|format| format.example).or(other);
    found.with_context(|| unknown(key))
}

fn unknown(key: &str) -> String {
    format!("no kind of file is called “{key}”; import --help lists them")
}

/// What a sheet of moves of past days changes of winters, as a question; none where that was answered.
fn winters(store: &Store, told: &Preview, options: &Options) -> anyhow::Result<Option<ImportQuestion>> {
    let (moves, reader) = (told.moves(), store.reader()?);
    if options.winters || moves.is_empty() || reader.moves()?.is_empty() {
        return Ok(None);
    }
    let zone = reader.site()?.and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
    let now = whole(&reader, zone.to_datetime(Timestamp::now()).date())?;
    let on = |day| whole(&reader, day).map(Box::new);
    let changed = view::moved_before::of_sheet(&now, &moves, on)?;
    let words: Vec<String> = changed.into_iter().map(|it| it.words).collect();
    Ok((!words.is_empty()).then(|| ImportQuestion::winters(&words)))
}

/// Takes the file in, or names every line that stands in the way.
pub fn run(given: &Import) -> anyhow::Result<()> {
    if let Some(key) = &given.example {
        say::out(format_args!("{}", example(key)?));
        return Ok(());
    }
    let (Some(data), Some(key), Some(file)) = (&given.data, &given.kind, &given.file) else {
        bail!("--data, --kind and a file are needed");
    };
    let place = collection::key::from_name(&given.place);
    let kind = Kind::from_key(key, &place).with_context(|| unknown(key))?.of_sensor(&given.sensor);
    let bytes = fs::read(file).with_context(|| format!("cannot read {}", file.display()))?;
    let name = file.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let answers = [("unit", &given.unit), ("dates", &given.dates), ("winters", &given.winters)]
        .map(|(of, it)| (of, it.as_deref()));
    let options = Options {
        leave_out: given.leave_out,
        update: given.update,
        strict: given.strict,
        now: Some(Timestamp::now().as_second()),
        ..Options::default()
    };
    let options = options.answered(&answers).map_err(anyhow::Error::msg)?;
    let mut store = Store::open(data)?;
    let mut told = preview(&store.reader()?, &kind, &name, &bytes, &options)?;
    told.ask(winters(&store, &told, &options)?);
    if given.preview {
        say::say!("{}: {}", told.format, count(told.rows, "row", "rows"));
        if let Some((first, last)) = told.span {
            say::say!("from {first} to {last}");
        }
        told.notes.iter().for_each(|note| say::say!("note: {note}"));
        told.questions.iter().for_each(|question| say::say!("{name}: {question}"));
        told.refused.iter().for_each(|refusal| say::say!("{name}, {refusal}"));
        return Ok(());
    }
    match take_in(&mut store, ImportFile { kind: &kind, name: &name, bytes: &bytes }, told, &options) {
        Ok(done) => {
            done.notes.iter().for_each(|note| say::say!("note: {note}"));
            say::say!(
                "{name}: {}, {} new or changed, {} left out",
                count(done.rows, "row", "rows"),
                done.added,
                done.left_out
            );
            Ok(())
        }
        Err(ImportError::Refused(refused)) => {
            refused.iter().for_each(|refusal| say::refuse!("{name}, {refusal}"));
            bail!(
                "{} cannot be taken; nothing was imported (--leave-out takes the rest)",
                count(refused.len(), "line", "lines")
            )
        }
        Err(ImportError::Unclear(questions)) => {
            questions.iter().for_each(|question| say::refuse!("{name}: {question}"));
            bail!("nothing was imported; add the option that is right and run it again")
        }
        Err(ImportError::Store(why)) => Err(why.into()),
    }
}
