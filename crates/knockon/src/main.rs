//! Knockon: the command line, and opening the desk.

mod candidates;
mod commands;
mod figure;
mod fold;
mod libraries;
mod library_search;
mod money;
mod onward;
mod photos;
mod report;
mod sharing;
mod shell;
mod terminal;

use std::path::PathBuf;
use std::process::ExitCode;

use candidates::MOST_CANDIDATES;
use clap::{CommandFactory, Parser, Subcommand};
use commands::Wanted;
use knockon_core::date::{self, Date};
use knockon_core::library::Stage;
use knockon_core::meant::{nearest, then};
use knockon_core::showing::Measure;
use knockon_report::kinds::{By, Kind};
use knockon_report::write::Paper;
use terminal::complain;

#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// What a newcomer tries first.
const EXAMPLES: &str = "\
Examples:
  knockon                        open the desk with an example
  knockon truck.json             open a sheet of your own
  knockon assess truck.json      what the plan drags in, and what does not fit
  knockon whatif truck.json --position carburettor --route rebuild
  knockon jobs truck.json --this-saturday 4
\"knockon COMMAND --help\" says what a command takes.";

/// Plans what an old vehicle's upgrades drag in: companions, clashes, surplus parts, what to measure, what to buy.
#[derive(Parser)]
#[command(version, subcommand_precedence_over_arg = true, after_help = EXAMPLES)]
struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
    /// Sheet to open on the desk; without one the example opens
    file: Option<PathBuf>,
    #[command(flatten)]
    libraries: LibraryArguments,
}

/// Which parts libraries are read.
#[derive(clap::Args)]
#[command(next_help_heading = "Parts libraries")]
struct LibraryArguments {
    /// Folder of a library to read in place of the one that comes with the program
    #[arg(long, value_name = "DIR", global = true)]
    library: Option<PathBuf>,
    /// Folder of a library to lay on top; give it again for another on top of that
    #[arg(long, value_name = "DIR", global = true)]
    add: Vec<PathBuf>,
    /// Leave your own library out; "knockon library list" says where it lies
    #[arg(long, global = true)]
    no_own: bool,
}

impl LibraryArguments {
    fn wanted(self) -> knockon_store::libraries::Wanted {
        let own = if self.no_own { None } else { knockon_desk::own_library() };
        knockon_store::libraries::Wanted { base: self.library, add: self.add, own }
    }
}

/// A plan of a sheet, and the day it is looked at on.
#[derive(clap::Args)]
struct OfPlan {
    /// Sheet file
    file: PathBuf,
    /// Plan by id or name; without it the sheet's current plan
    #[arg(long)]
    plan: Option<String>,
    /// Day it is looked at on, such as 2026-03-01, for ages, prices and what falls due; without it today
    #[arg(long, value_name = "DATE", value_parser = date::day)]
    on: Option<Date>,
    /// Count in what was changed in a window and is not saved
    #[arg(long)]
    with_unsaved: bool,
}

impl OfPlan {
    fn wanted(self, libraries: knockon_store::libraries::Wanted) -> Wanted {
        let Self { file, plan, on, with_unsaved } = self;
        Wanted { file, plan, on: on.unwrap_or_else(today), with_unsaved, libraries }
    }
}

#[derive(Subcommand)]
enum Command {
    /// Print what a plan drags in, with the reasons
    Assess {
        #[command(flatten)]
        of: OfPlan,
        /// Say as well which changes would clear all that does not fit, together
        #[arg(long)]
        cures: bool,
        /// Mark what costs so much or more for a line, such as 200
        #[arg(long, value_name = "AMOUNT")]
        dear: Option<String>,
        /// Mark what takes so many hours or more
        #[arg(long, value_name = "HOURS")]
        long: Option<f64>,
        /// Units to tell quantities in: inch or metric
        #[arg(long, default_value = "inch", value_parser = units)]
        units: Measure,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Print the buy list, or write it as CSV
    Buy {
        #[command(flatten)]
        of: OfPlan,
        /// Write a CSV file for a spreadsheet
        #[arg(long, value_name = "OUT")]
        csv: Option<PathBuf>,
        /// Write over the file that is there, whatever it is
        #[arg(long, requires = "csv")]
        replace: bool,
    },
    /// Print what one choice would change before it is made
    Whatif {
        #[command(flatten)]
        of: OfPlan,
        /// Position id, such as carburettor
        #[arg(long)]
        position: String,
        /// keep, clean, rebuild, renew, convert or leave-off
        #[arg(long)]
        route: String,
        /// For convert: part id; without it every part on offer
        #[arg(long)]
        part: Option<String>,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Print what one plan costs more than another, cause by cause
    Compare {
        /// Sheet file
        file: PathBuf,
        /// Plan one stands on, by id or name
        from: String,
        /// Plan it is held against, by id or name
        to: String,
        /// Day the plans are looked at on, such as 2026-03-01; without it today
        #[arg(long, value_name = "DATE", value_parser = date::day)]
        on: Option<Date>,
        /// Count in what was changed in a window and is not saved
        #[arg(long)]
        with_unsaved: bool,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Print what vehicles that are for sale would come to, side by side, each a sheet: what is bad, what nobody looked at
    Candidates {
        /// Sheet files, one for each vehicle
        #[arg(required = true, num_args = 1..=MOST_CANDIDATES)]
        files: Vec<PathBuf>,
        /// How far they are brought: sound, seen, stretched or bare
        #[arg(long, default_value = "sound", value_parser = candidates::stage)]
        stage: Stage,
        /// Day they are looked at on, such as 2026-03-01; without it today
        #[arg(long, value_name = "DATE", value_parser = date::day)]
        on: Option<Date>,
        /// Count in what was changed in a window and is not saved
        #[arg(long)]
        with_unsaved: bool,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Print what each way on from here still costs and leaves: every plan, and selling it, by your own figures of its worth
    Onward {
        #[command(flatten)]
        of: OfPlan,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Print the survey: the walk round the vehicle, what is to be measured, what was read and what that says
    Survey {
        #[command(flatten)]
        of: OfPlan,
        /// Print a sheet to take to the vehicle and write on
        #[arg(long, conflicts_with = "json")]
        sheet: bool,
        /// Whose units limits are told in: inch or metric
        #[arg(long, value_parser = units, default_value = "inch")]
        units: Measure,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Print what a plan costs beside what may be spent, by system
    Budget {
        #[command(flatten)]
        of: OfPlan,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Print what is still to be bought by supplier, with shipping, and where it costs least
    Orders {
        #[command(flatten)]
        of: OfPlan,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Write a report: buy-list, jobs, measure, commissioning, tags, compare or book, as PDF, HTML, XLSX or CSV
    Report {
        /// buy-list, jobs, measure, commissioning, tags, compare or book
        #[arg(value_parser = report::kind)]
        kind: Kind,
        #[command(flatten)]
        of: OfPlan,
        /// For compare: the plan it is held against, by id or name
        #[arg(long, value_name = "PLAN")]
        against: Option<String>,
        /// File to write; it is written as its ending says: .pdf, .html, .xlsx or .csv
        #[arg(long, value_name = "PATH")]
        out: PathBuf,
        /// For buy-list: put lines together by supplier, system or state
        #[arg(long, value_name = "WHAT", default_value = "supplier", value_parser = report::by)]
        by: By,
        /// Paper of a PDF: letter or a4; without it letter where units are inch, a4 where they are metric
        #[arg(long, value_parser = report::paper)]
        paper: Option<Paper>,
        /// Units to tell quantities in: inch or metric
        #[arg(long, default_value = "inch", value_parser = units)]
        units: Measure,
        /// Write over the file that is there, whatever it is
        #[arg(long)]
        replace: bool,
    },
    /// Print the work of a plan in its order: what comes before what, hours, tools, checks
    Jobs {
        #[command(flatten)]
        of: OfPlan,
        /// Only what can be done in so many hours with the parts that are here
        #[arg(long, value_name = "HOURS", value_parser = commands::hours)]
        this_saturday: Option<f64>,
        /// Write the sessions and the last days to order as a calendar (.ics) to this file, instead of printing
        #[arg(long, value_name = "OUT", conflicts_with_all = ["json", "this_saturday"])]
        calendar: Option<PathBuf>,
        /// Write over the file that is there, whatever it is
        #[arg(long, requires = "calendar")]
        replace: bool,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Print how something is done, step by step, dangers first; without a word list what there is
    Card {
        /// Id of a card, or words of its name: bleed brakes
        #[arg(value_name = "WORD")]
        words: Vec<String>,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Say whether the vehicle may be driven, and what is missing; exit code 0 ready, 1 not
    Ready {
        #[command(flatten)]
        of: OfPlan,
    },
    /// Find a place, a part, a clash, a note, a figure of a plan, by whatever name you know it
    Find {
        /// Sheet file
        file: PathBuf,
        /// Words of what is meant, in any order: disc brakes, carburetor, what is left to measure
        #[arg(required = true, value_name = "WORD")]
        words: Vec<String>,
        /// Plan by id or name; without it the sheet's current plan
        #[arg(long)]
        plan: Option<String>,
        /// Count in what was changed in a window and is not saved
        #[arg(long)]
        with_unsaved: bool,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Find and work out a figure of the trade; without a word, list them
    Figure {
        /// Which one, such as tap-drill, or words of what is meant, such as bigger tires speedometer; and what it takes,
        /// such as code=31x10.50R15LT or "bore=4 in"
        #[arg(value_name = "WORD or NAME=VALUE")]
        words: Vec<String>,
        /// Print JSON for another program; numbers in SI
        #[arg(long)]
        json: bool,
    },
    /// Write a sheet that carries all it needs of your libraries, for somebody who has only the program
    Pack {
        /// Sheet file
        file: PathBuf,
        /// File to write
        #[arg(long, value_name = "FILE")]
        out: PathBuf,
    },
    /// Work on a parts library
    Library {
        #[command(subcommand)]
        command: LibraryCommand,
    },
    /// Print what has a shell complete the words of this program
    Completions {
        /// Which shell: bash, zsh or fish
        #[arg(value_enum)]
        shell: shell::Shell,
    },
    /// Write the pages of the program for "man", one for each command
    ManPages {
        /// Folder to write them into; those that were written before are replaced
        dir: PathBuf,
    },
}

#[derive(Subcommand)]
enum LibraryCommand {
    /// Check a library; exit code 1 where something is wrong
    Check {
        /// Folder of a library that stands by itself; without it, what the other commands read is checked: the
        /// library of the program, what --add lays on top, and your own
        dir: Option<PathBuf>,
        /// Count the numbers by what their sources are worth, and list those without a source
        #[arg(long)]
        sources: bool,
    },
    /// Put the files of a library into the one layout; what they mean stays as it is
    Tidy {
        /// Folder of the library
        dir: PathBuf,
        /// Change nothing; exit code 1 where something would change
        #[arg(long)]
        check: bool,
    },
    /// Print the JSON Schema of a library's file, or of a sheet: an editor completes and checks words by it
    Schema {
        /// library or sheet
        #[arg(default_value = "library", value_parser = ["library", "sheet"])]
        of: String,
    },
    /// List the libraries that are read, what each has, and what one replaces of another
    List {
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Write the vehicle that a sheet describes as a file of a library, for others to begin from
    Vehicle {
        /// Sheet file
        sheet: PathBuf,
        /// File to write, such as mill-van.json
        #[arg(long, value_name = "FILE")]
        out: PathBuf,
    },
    /// Look at what a file would bring into your own library; with --yes take it in
    Take {
        /// A file of a library, ending in .json
        file: PathBuf,
        /// Sheets to say what it changes in; give it again for another
        #[arg(long, value_name = "FILE")]
        sheet: Vec<PathBuf>,
        /// Take it in
        #[arg(long)]
        yes: bool,
    },
    /// Find parts by what they are called, by what their ports are, by their numbers, in ordinary words
    Find {
        /// What is meant: radiator under 470 mm, ends in 3/8-24 inverted flare, alternator over 60 A under 200 USD
        #[arg(required = true, value_name = "WORD")]
        words: Vec<String>,
        /// Sheet whose vehicle is looked at as well: where each part would go, and which places have such a port
        #[arg(long, value_name = "FILE")]
        sheet: Option<PathBuf>,
        /// Units to tell quantities in: inch or metric
        #[arg(long, default_value = "inch", value_parser = units)]
        units: Measure,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Print all that is known of one part, where it fits on a sheet's vehicle, or two parts side by side
    Part {
        /// Part id; "knockon library find" says it
        id: String,
        /// Another part to lay beside it, by id: what is the same, what differs, what only one has
        #[arg(long, value_name = "ID")]
        beside: Option<String>,
        /// Sheet on whose vehicle it is tried: where it fits, what comes along, what makes way
        #[arg(long, value_name = "FILE")]
        sheet: Option<PathBuf>,
        /// Units to tell quantities in: inch or metric
        #[arg(long, default_value = "inch", value_parser = units)]
        units: Measure,
        /// Print JSON for another program
        #[arg(long)]
        json: bool,
    },
    /// Write what is in the libraries that are read as a page to read and print: parts, joints, limits, cautions
    Manual {
        /// File to write, such as library.html; a page that was written before is replaced, and nothing else
        out: PathBuf,
        /// Whose units quantities are told in: inch or metric
        #[arg(long, value_parser = units, default_value = "inch")]
        units: Measure,
    },
}

/// The first word where it is neither a command nor the one file to open.
fn stray(error: &clap::Error, first: Option<String>) -> Option<String> {
    use clap::error::ErrorKind;
    let first = first.filter(|word| !word.starts_with('-'))?;
    let known = Arguments::command().get_subcommands().any(|c| c.get_name() == first) || first == "help";
    let kinds = [ErrorKind::ArgumentConflict, ErrorKind::UnknownArgument, ErrorKind::InvalidSubcommand];
    (!known && kinds.contains(&error.kind())).then_some(first)
}

/// Inch or metric.
fn units(text: &str) -> Result<Measure, String> {
    let all = [Measure::Inch, Measure::Metric];
    let found = all.into_iter().find(|m| m.word() == text.trim().to_lowercase());
    let near = || then(nearest(text, all.map(Measure::word)), "expected inch or metric");
    found.ok_or_else(|| format!("there are no units \"{text}\"{}", near()))
}

/// "; did you mean ...?" for a word that is near a command, else nothing.
fn near_command(word: &str) -> String {
    let known = Arguments::command();
    let known: Vec<&str> = known.get_subcommands().map(clap::Command::get_name).collect();
    commands::near_word(word, &known)
}

/// What to say of a file to open that is followed by a command, or is not there and reads like one.
fn no_file(file: &std::path::Path, command_follows: bool) -> Option<String> {
    if command_follows {
        let near = file.to_str().map(near_command).unwrap_or_default();
        let file = file.display();
        return Some(format!(
            "a sheet to open stands alone: knockon {file}{near}. A command goes before its file"
        ));
    }
    let word = file.to_str()?;
    let bare = !word.contains(['.', '/', '\\']) && !file.exists();
    let hint = if bare { near_command(word) } else { String::new() };
    (!hint.is_empty()).then(|| format!("there is no command and no file \"{word}\"{hint}"))
}

/// The day it is here: the one place where the program asks for it.
fn today() -> Date {
    jiff::ZonedDateTime::now().date()
}

fn main() -> ExitCode {
    let arguments = Arguments::try_parse().unwrap_or_else(|error| {
        if let Some(word) = stray(&error, std::env::args().nth(1)) {
            let hint = near_command(&word);
            complain(&format!("there is no command \"{word}\"{hint}; knockon --help lists them. A sheet to open stands alone: knockon FILE"));
            std::process::exit(2);
        }
        if !error.use_stderr() {
            error.exit();
        }
        // what was typed stands in it as it was
        complain(error.render().to_string().trim_end());
        std::process::exit(error.exit_code());
    });
    if let Some(said) = arguments.file.as_deref().and_then(|file| no_file(file, arguments.command.is_some()))
    {
        complain(&said);
        return ExitCode::from(2);
    }
    let libraries = arguments.libraries.wanted();
    let done = match arguments.command {
        None => commands::desk(arguments.file, &libraries, today),
        Some(Command::Assess { of, cures, dear, long, units, json }) => {
            let wanted = of.wanted(libraries);
            commands::assess_file(&wanted, &commands::Asked { cures, dear, long, units }, json)
        }
        Some(Command::Buy { of, csv, replace }) => {
            let wanted = of.wanted(libraries);
            commands::buy(&wanted, csv.as_deref().map(|path| commands::Out { path, replace }))
        }
        Some(Command::Whatif { of, position, route, part, json }) => {
            let wanted = of.wanted(libraries);
            commands::whatif(&wanted, &position, &route, part.as_deref(), json)
        }
        Some(Command::Compare { file, from, to, on, with_unsaved, json }) => {
            let on = on.unwrap_or_else(today);
            let wanted = Wanted { file, plan: Some(from), on, with_unsaved, libraries };
            commands::compare(&wanted, &to, json)
        }
        Some(Command::Candidates { files, stage, on, with_unsaved, json }) => {
            let on = on.unwrap_or_else(today);
            let wanted = |file| Wanted { file, plan: None, on, with_unsaved, libraries: libraries.clone() };
            candidates::candidates(&files.into_iter().map(wanted).collect::<Vec<_>>(), stage, json)
        }
        Some(Command::Onward { of, json }) => onward::onward(&of.wanted(libraries), json),
        Some(Command::Survey { of, sheet, units, json }) => {
            let wanted = of.wanted(libraries);
            commands::survey(&wanted, sheet, units, json)
        }
        Some(Command::Budget { of, json }) => {
            let wanted = of.wanted(libraries);
            money::budget(&wanted, json)
        }
        Some(Command::Orders { of, json }) => {
            let wanted = of.wanted(libraries);
            money::orders(&wanted, json)
        }
        Some(Command::Report { kind, of, against, out, by, paper, units, replace }) => {
            let wanted = of.wanted(libraries);
            report::report(kind, &wanted, &report::Asked { out, against, by, paper, units, replace })
        }
        Some(Command::Jobs { of, this_saturday, calendar, replace, json }) => {
            let wanted = of.wanted(libraries);
            let calendar = calendar.as_deref().map(|path| commands::Out { path, replace });
            commands::jobs(&wanted, this_saturday, calendar, json)
        }
        Some(Command::Card { words, json }) => commands::card(&words.join(" "), &libraries, json),
        Some(Command::Ready { of }) => {
            let wanted = of.wanted(libraries);
            match commands::ready(&wanted) {
                Ok(true) => Ok(()),
                Ok(false) => return ExitCode::from(1),
                // what could not be looked at is not "not ready"
                Err(message) => {
                    complain(&message);
                    return ExitCode::from(2);
                }
            }
        }
        Some(Command::Find { file, words, plan, with_unsaved, json }) => {
            let wanted = Wanted { file, plan, on: today(), with_unsaved, libraries };
            commands::find(&wanted, &words.join(" "), json)
        }
        Some(Command::Completions { shell }) => shell::completions(Arguments::command(), shell),
        Some(Command::ManPages { dir }) => shell::man_pages(Arguments::command(), &dir),
        Some(Command::Figure { words, json }) => figure::figure(&words, json),
        Some(Command::Pack { file, out }) => sharing::pack(&file, &out, &libraries),
        Some(Command::Library { command: LibraryCommand::Vehicle { sheet, out } }) => {
            sharing::vehicle(&sheet, &out, &libraries)
        }
        Some(Command::Library { command: LibraryCommand::Take { file, sheet, yes } }) => {
            sharing::take(&file, &sheet, yes, &libraries)
        }
        Some(Command::Library { command: LibraryCommand::Check { dir, sources } }) => {
            libraries::check(dir, libraries, sources)
        }
        Some(Command::Library { command: LibraryCommand::Tidy { dir, check } }) => {
            libraries::tidy(&dir, check)
        }
        Some(Command::Library { command: LibraryCommand::Find { words, sheet, units, json } }) => {
            let on = library_search::On { sheet, libraries, day: today(), units };
            library_search::find(&on, &words.join(" "), json)
        }
        Some(Command::Library { command: LibraryCommand::Part { id, beside, sheet, units, json } }) => {
            let on = library_search::On { sheet, libraries, day: today(), units };
            library_search::part(&on, &id, beside.as_deref(), json)
        }
        Some(Command::Library { command: LibraryCommand::Schema { of } }) => libraries::schema(&of),
        Some(Command::Library { command: LibraryCommand::List { json } }) => {
            libraries::list(&libraries, json)
        }
        Some(Command::Library { command: LibraryCommand::Manual { out, units } }) => {
            libraries::manual(&libraries, &out, units)
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            complain(&message);
            ExitCode::from(1)
        }
    }
}
