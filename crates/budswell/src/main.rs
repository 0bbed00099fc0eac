//! The face: web pages and command line, nothing but routes, templates and arguments.

use std::{path::PathBuf, process::ExitCode};

use clap::{Parser, Subcommand};
use jiff::civil::Date;

mod cli;
mod web;

/// Knows when each of your trees has had its cold and when its buds will move.
#[derive(Parser)]
#[command(name = "budswell", version)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Show the invented collection: today's answer here, all pages on localhost.
    Demo {
        /// The day to stand on, as 2026-03-08.
        #[arg(long, default_value = "2026-03-28")]
        today: Date,
        /// Port on this machine; 0 takes a free one.
        #[arg(long, default_value_t = 4730)]
        port: u16,
        /// Print the answer and stop.
        #[arg(long)]
        once: bool,
    },
    /// Run a collection of your own, kept in a folder.
    Serve {
        /// The folder; made if it is not there.
        #[arg(long)]
        data: PathBuf,
        /// Port on this machine; 0 takes a free one.
        #[arg(long, default_value_t = 4730)]
        port: u16,
        /// The day to stand on instead of today.
        #[arg(long)]
        today: Option<Date>,
    },
    /// Take a file into a collection, whole or not at all.
    #[command(after_long_help = cli::import::kinds())]
    Import(cli::import::Import),
    /// Ask the open weather service Open-Meteo for the forecast, and with --years for past years.
    Fetch(cli::fetch::Fetch),
    /// Say which pots need water before the next possible visit.
    Round(cli::round::Round),
    /// Print a tree's bench card: what is meant for each branch, from the base up.
    Bench(cli::bench::Bench),
    /// Say which wires to look at first.
    Wires(cli::bench::Wires),
    /// Say which trees are repotted this season and why, or print one tree's bench.
    Repots(cli::shelf::Repots),
    /// Say which pot goes to which tree this season, and in which order.
    Pots(cli::shelf::On),
    /// Say what soil and wire the season's repots take, and what to order by when.
    Soil(cli::shelf::On),
    /// Say which trees are in leaf, when their leaves turn, and which to look at.
    Leaves(cli::leaves::Leaves),
    /// Say what may be done to a tree today, and why.
    May(cli::may::May),
    /// Take in a photo of a tree.
    Photo(cli::bench::Photo),
    /// Make, list or revoke the tokens by which sensors send readings to /api/readings.
    Token(cli::token::Token),
    /// Make a backup: one whole, checked file, also while `serve` runs.
    Backup(cli::backup::Backup),
    /// Put a backup into a new folder, or in the place of a collection, which is then kept under a dated name.
    Restore(cli::backup::Restore),
    /// Look over a collection or a backup and say what is wrong with it; writes nothing.
    Check {
        /// The folder, or a backup's file.
        #[arg(long)]
        data: PathBuf,
    },
    /// Say who must move before dark, where to, in what order and how heavy.
    Tonight {
        /// The collection's folder.
        #[arg(long)]
        data: PathBuf,
        /// The day to stand on instead of today.
        #[arg(long)]
        today: Option<Date>,
    },
    /// Compute one thing from a file and print it as JSON.
    Calc {
        #[command(subcommand)]
        what: cli::calc::What,
    },
}

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            cli::say::refuse!("{why:#}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> anyhow::Result<()> {
    match Arguments::parse().command {
        Command::Demo { today, port, once } => cli::demo::run(today, port, once),
        Command::Serve { data, port, today } => cli::serve::run(&data, port, today),
        Command::Import(import) => cli::import::run(&import),
        Command::Fetch(fetch) => cli::fetch::run(&fetch),
        Command::Round(given) => cli::round::run(&given),
        Command::Bench(given) => cli::bench::bench(&given),
        Command::Wires(given) => cli::bench::wires(&given),
        Command::Repots(given) => cli::shelf::repots(&given),
        Command::Pots(given) => cli::shelf::pots(&given),
        Command::Soil(given) => cli::shelf::soil(&given),
        Command::Leaves(given) => cli::leaves::run(&given),
        Command::May(given) => cli::may::run(&given),
        Command::Photo(given) => cli::bench::photo(&given),
        Command::Token(token) => cli::token::run(&token),
        Command::Backup(given) => cli::backup::backup(&given),
        Command::Restore(given) => cli::backup::run_restore(&given),
        Command::Check { data } => cli::check::run(&data),
        Command::Tonight { data, today } => cli::tonight::run(&data, today),
        Command::Calc { what } => cli::calc::run(what),
    }
}
