//! The face: web pages and command line, nothing but routes, templates and arguments.

use clap::{Parser, Subcommand};

mod cli;

/// Knows when each of your trees has had its cold and when its buds will move.
#[derive(Parser)]
#[command(name = "budswell", version)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Compute one thing from a file and print it as JSON.
    Calc {
        #[command(subcommand)]
        what: cli::calc::What,
    },
}

fn main() -> anyhow::Result<()> {
    match Arguments::parse().command {
        Command::Calc { what } => cli::calc::run(what),
    }
}
