//! `budswell calc waking`: a file of trees and winters told by the shipped needs.

use std::{
    collections::HashMap,
    fs,
    path::{Path, PathBuf},
};

use anyhow::{Context, anyhow};
use clap::Args;
use intake::{
    cases::{self, Weather, weather},
    sheet,
};
use measure::quantity::Degrees;
use serde_json::json;
use view::cases::{Air, Asked, Light, Stay, Told, told};

use super::{super::say, not_read};

/// What to tell.
#[derive(Args)]
pub struct Waking {
    /// CSV: id, taxon, latitude, weather, winter and, if need be, moves (`day file light`, apart by `;`); weather files beside it, `#` and a
    /// column or station after the name.
    file: PathBuf,
    /// CSV of looks: tree (an id of the cases), day, stage, sureness.
    #[arg(long)]
    learn: Option<PathBuf>,
    /// JSON in place of CSV.
    #[arg(long)]
    json: bool,
}

/// Tells and prints.
pub fn run(asked: &Waking) -> anyhow::Result<()> {
    let cases = cases::cases(&text_of(&asked.file)?).map_err(|refused| not_read(&asked.file, &refused))?;
    let looks = match &asked.learn {
        Some(file) => sheet::looks(&text_of(file)?).whole().map_err(|refused| not_read(file, &refused))?,
        None => Vec::new(),
    };
    let mut airs = Airs {
        folder: asked.file.parent().unwrap_or(Path::new(".")),
        texts: HashMap::new(),
        rank: HashMap::new(),
        read: Vec::new(),
    };
    let mut trees = Vec::with_capacity(cases.len());
    for case in &cases {
        let in_line = || format!("{}, line {}", asked.file.display(), case.line);
        let first = Stay {
            from: None,
            air: airs.rank(&case.weather, case.latitude).with_context(in_line)?,
            light: Light::Sky,
        };
        let mut stays = vec![first];
        for it in &case.moves {
            let light = match it.light {
                cases::Light::Sky => Light::Sky,
                cases::Light::Window => Light::Window,
                cases::Light::Dark => Light::Dark,
                cases::Light::Lamp(hours) => Light::Lamp(hours),
            };
            let air = airs.rank(&it.weather, case.latitude).with_context(in_line)?;
            stays.push(Stay { from: Some(it.day), air, light });
        }
        trees.push(Asked {
            id: case.id.clone(),
            taxon: case.taxon.clone(),
            latitude: case.latitude,
            winter: case.winter,
            stays,
        });
    }
    let read: Vec<Air<'_>> = airs.read.iter().map(|it| Air { first: it.first, hours: &it.hours }).collect();
    let told = told(&trees, &read, &looks)
        .map_err(|(at, why)| anyhow!("{}, line {}: {why}", asked.file.display(), cases[at].line))?;
    if asked.json {
        let rows: Vec<_> = trees.iter().zip(&told).map(|(tree, it)| shown(tree, it)).collect();
        say::out(format_args!("{:#}\n", json!(rows)));
        return Ok(());
    }
    say::out(format_args!("id,winter,taxon,stage,early,middle,late,portions,released,standing\n"));
    for (tree, it) in trees.iter().zip(&told) {
        let released = it.released.map_or_else(String::new, |day| day.to_string());
        for (stage, dates) in &it.stages {
            let [early, middle, late] =
                dates.map_or_else(Default::default, |dates| dates.map(|day| day.to_string()));
            say::out(format_args!(
                "{},{},{},{},{early},{middle},{late},{:.1},{released},{}\n",
                quoted(&tree.id),
                tree.winter,
                quoted(it.taxon),
                stage.code(),
                it.portions,
                quoted(&it.standing),
            ));
        }
    }
    Ok(())
}

fn text_of(file: &Path) -> anyhow::Result<String> {
    fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))
}

fn quoted(text: &str) -> String {
    if text.contains([',', '"', '\n']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

fn shown(tree: &Asked, it: &Told) -> serde_json::Value {
    let stages = it.stages.iter().map(|(stage, dates)| {
        json!({
            "stage": stage.code(),
            "one_in_ten_earlier": dates.map(|it| it[0].to_string()),
            "middle": dates.map(|it| it[1].to_string()),
            "one_in_ten_later": dates.map(|it| it[2].to_string()),
        })
    });
    json!({
        "id": tree.id,
        "winter": tree.winter,
        "taxon": it.taxon,
        "stages": stages.collect::<Vec<_>>(),
        "chill_portions": (it.portions * 10.0).round() / 10.0,
        "released": it.released.map(|day| day.to_string()),
        "pace": { "mean": it.pace[0], "sd": it.pace[1] },
        "standing": it.standing,
    })
}

/// The weather files of the cases, each read once.
struct Airs<'a> {
    folder: &'a Path,
    texts: HashMap<String, String>,
    rank: HashMap<(String, u64), usize>,
    read: Vec<Weather>,
}

impl Airs<'_> {
    /// The place of an air in the list, read if it is new.
    fn rank(&mut self, named: &str, latitude: f64) -> anyhow::Result<usize> {
        let key = (named.to_owned(), latitude.to_bits());
        if let Some(rank) = self.rank.get(&key) {
            return Ok(*rank);
        }
        let (name, which) = named.split_once('#').map_or((named, None), |(name, which)| (name, Some(which)));
        let path = self.folder.join(name);
        let text = match self.texts.get(name) {
            Some(text) => text,
            None => {
                let text = text_of(&path)?;
                self.texts.entry(name.to_owned()).or_insert(text)
            }
        };
        self.read.push(weather(text, which, Degrees(latitude)).map_err(|refused| not_read(&path, &refused))?);
        self.rank.insert(key, self.read.len() - 1);
        Ok(self.read.len() - 1)
    }
}
