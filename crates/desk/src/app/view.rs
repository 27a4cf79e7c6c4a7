//! What the views keep for themselves, and the actions they return.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use egui::Rect;
use knockon_core::assessment::{Alternative, PortRow};
use knockon_core::change::Change;
use knockon_core::key::{CompanionKey, FactKey};
use knockon_core::look_twice::Bounds;
use knockon_core::sheet::{Choice, Direction, LineState, Signed};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Edit};

use crate::app::commands::Command;
pub use crate::app::selection::Spot;
use crate::app::work::Purpose;
use crate::board::density::Density;
use crate::board::filter::Filter;
use crate::buying::chosen::Chosen;
use crate::cures::Cures;
use crate::cures::search::Clearing;
use crate::cures::set::Choices;
use crate::dialogs::one_way::{Ask, Over, Place};
use crate::dialogs::open::Dialog;
use crate::document::photo_paths;
use crate::find::Search;
use crate::fitup::{Card, FitUp};
use crate::how::How;
use crate::jobs::state::JobsState;
use crate::library::state::LibraryState;
use crate::money::state::MoneyState;
use crate::own_library;
use crate::own_library::state::OwnLibrary;
use crate::own_parts::state::{Parts, Step};
use crate::panel::on_offer::Way;
use crate::panel::small_photos::Smalls;
use crate::plans::state::PlansState;
use crate::printing::state::Printing;
use crate::survey::state::WalkState;
use crate::vehicle;
use crate::vehicle::state::VehicleState;

/// Which page is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Page {
    /// The start page.
    Start,
    /// The board.
    #[default]
    Board,
    /// The buy list.
    Buying,
    /// Parts of the user's own.
    Parts,
    /// Drawings to scale.
    FitUp,
    /// The work in its order.
    Jobs,
    /// The walk round the vehicle.
    Survey,
    /// The vehicle as it is.
    Vehicle,
    /// How it works.
    How,
    /// Every part there is.
    Library,
    /// The owner's library, and what comes into it.
    OwnLibrary,
    /// What may be spent beside what is.
    Money,
    /// The plans side by side.
    Plans,
}

impl Page {
    /// As a screen reader says it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Start => "Start page",
            Self::Board => "Board",
            Self::Buying => "Buying",
            Self::Parts => "My parts",
            Self::FitUp => "Fit-up",
            Self::Jobs => "Jobs",
            Self::Survey => "Survey",
            Self::Vehicle => "Vehicle",
            Self::How => "How it works",
            Self::Library => "Library",
            Self::OwnLibrary => "My library",
            Self::Money => "Money",
            Self::Plans => "Plans",
        }
    }
}

/// The lists behind the figures of the running strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Behind {
    /// Fitted or in hand.
    Spent,
    /// On order.
    Committed,
    /// To buy.
    ToCome,
    /// Bought, and not wanted by the plan.
    Idle,
    /// Companions to decide.
    Companions,
    /// Clashes.
    Clashes,
    /// Unknowns.
    Measure,
    /// Lines fitted and not.
    Fitted,
    /// Cautions.
    Cautions,
    /// Parts taken off.
    Surplus,
    /// What is to be done later.
    Later,
    /// What is odd in the sheet: words the library does not know, amounts below nothing.
    Problems,
}

/// What a view asks for.
#[derive(Clone, Debug)]
pub enum Action {
    /// Change the sheet, as one step.
    Edit(Vec<Edit>),
    /// Choose a route at a position; one-way steps ask first.
    Choose(String, Option<Choice>),
    /// Choose several routes as one step, offered here; one-way steps ask first.
    Clear(Choices, Place),
    /// Say yes to a companion by its key, or take that back; one-way steps ask first.
    Accept(CompanionKey, bool),
    /// Say yes to several companions; those that cannot be undone are left to be asked for one by one.
    AcceptAll(Vec<CompanionKey>),
    /// Take another part for a companion by its key, or the cheapest again; one-way steps ask first.
    Pick(CompanionKey, Option<String>),
    /// Ask why a companion is left out.
    LeaveOut(CompanionKey),
    /// What was paid each for a part, as typed, and the currency where none is typed.
    Paid(String, String, Option<String>),
    /// Bring over what another plan decides at a place; one-way steps ask first.
    TakeOver(Over),
    /// Where it goes from today on.
    Direct(Box<Direction>),
    /// Ask what money came back for a part.
    CameBack(String),
    /// So many steps of the history forward, or back where it is less than nothing.
    Steps(isize),
    /// Something with the photos.
    Photos(photo_paths::Step),
    /// Something with the user's own parts.
    Parts(Step),
    /// Something with the vehicle.
    Vehicle(vehicle::state::Step),
    /// Something with the owner's library.
    OwnLibrary(own_library::state::Step),
    /// The answer to a one-way step.
    Answer(bool),
    /// Select a spot, or nothing.
    Select(Option<Spot>),
    /// Bring what is on offer at a position into view.
    Offer {
        /// Position id.
        position: String,
        /// Part id.
        part: String,
    },
    /// To a position, into the field of the first measurement it asks for.
    Measure(String),
    /// To the best of what was found, or the one the keyboard is on.
    Found,
    /// To the buy list: lines in one state, or all.
    Lines(Option<LineState>),
    /// To the line of a part in the buy list.
    Line(String),
    /// From where on a line is dear or takes long; or why what was typed cannot be read.
    LookFrom(Result<Bounds, String>),
    /// Do a command.
    Do(Command),
    /// Open a card of the fit-up page.
    FitUp(Card),
    /// Show or hide the list behind a figure.
    Behind(Option<Behind>),
    /// Read this file.
    Open(PathBuf),
    /// A path for a purpose has been typed; `true`: replacing a file was agreed to.
    Path(Purpose, String, bool),
    /// Show the file chooser.
    Browse(Purpose, String),
    /// Work on a plan of the example.
    StartWith(String),
    /// Open one of the further examples, by its place among them.
    Further(usize),
    /// Begin a sheet: vehicle and name.
    Begin(String, String),
    /// To a system on the board.
    System(String),
    /// Ask for a path.
    AskPath(Purpose),
    /// Close the dialog.
    CloseDialog,
    /// A job is done, or open again.
    Done(String, bool),
    /// What was read at an inspection of a place, as a sheet holds it.
    Inspected {
        /// Position id.
        position: String,
        /// Inspection id.
        inspection: String,
        /// Which of several alike; empty: the one there is.
        which: String,
        /// What was read.
        value: String,
        /// It is the day on which what is there was made.
        is_date: bool,
    },
    /// A check passed, with what was read; or it is open again.
    Sign(String, Option<Signed>),
    /// Drop the message.
    Hush,
    /// Give up what is being worked out.
    Stop(Stop),
    /// Work out what was given up.
    WorkOut,
    /// The oldest of what had to be read is read.
    Read,
}

/// What is given up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stop {
    /// A job, by its number.
    Task(u64),
    /// The search for what clears the clashes together.
    Search,
}

/// A message above the strip.
#[derive(Clone, Debug, PartialEq)]
pub struct Message {
    /// Complete sentences.
    pub text: String,
    /// Something went wrong: it stays until it is dismissed.
    pub trouble: bool,
    /// When it was first shown, in seconds.
    pub since: Option<f64>,
}

/// A row of the board as drawn last.
#[derive(Clone, Debug)]
pub struct Row {
    /// What it shows.
    pub spot: Spot,
    /// Where.
    pub rect: Rect,
    /// In which column.
    pub column: usize,
}

/// Columns of the buy list.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Column {
    /// As the assessment has it: by system.
    #[default]
    System,
    /// By name.
    Item,
    /// By number.
    Qty,
    /// By price each.
    Each,
    /// By price of all.
    Total,
    /// By supplier.
    Supplier,
    /// By state.
    State,
}

/// State of the buy list.
#[derive(Clone, Debug, Default)]
pub struct BuyState {
    /// Sorted by.
    pub sort: Column,
    /// Backwards.
    pub down: bool,
    /// Only this state.
    pub only: Option<LineState>,
    /// The export is to hold the lines shown, not all.
    pub export_shown: bool,
    /// Lines chosen to be set at once.
    pub chosen: Chosen,
    /// A supplier being typed: part and text.
    pub draft: Option<(String, String)>,
    /// A price being typed: part and text.
    pub paid: Option<(String, String)>,
}

/// Offers of the selected position.
#[derive(Clone, Debug, Default)]
pub struct Offers {
    /// Revision and position they are of, or are being worked out for.
    pub of: Option<(u64, String)>,
    /// The offers, once there.
    pub list: Option<Vec<Way>>,
    /// Those of the revision before: they stay in sight until the new ones are there, so that nothing jumps.
    pub before: Option<Vec<Way>>,
    /// What each does to money that is spent already; empty where nothing is.
    pub changes: Vec<Change>,
    /// A number pressed before they were there.
    pub wanted: Option<usize>,
    /// They were given up.
    pub stopped: bool,
}

/// What the panel of the selected spot shows beside the assessment.
#[derive(Clone, Debug, Default)]
pub struct Details {
    /// Revision and spot they are of.
    pub of: Option<(u64, Spot)>,
    /// Others that would serve for the companion.
    pub alternatives: Vec<Alternative>,
    /// What could have sat in the position when the vehicle was found: part ids and names.
    pub could_be: Vec<(String, String)>,
    /// What the library has there.
    pub library_has: Option<String>,
    /// The kit that fills the position or leaves it empty: where it is chosen, and its name.
    pub kit: Option<(String, String)>,
    /// Photos of the position that lie where nothing is any more, as the sheet has them.
    pub missing: BTreeSet<String>,
    /// Ports of the part fitted at the position.
    pub ports: Vec<PortRow>,
}

/// A field of the panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// The survey of the selected position: what was seen, or the verdict where there is none.
    Survey,
    /// The first measurement it asks for.
    Measuring,
    /// What was paid for the part that has just come in.
    Paid,
    /// The path of a photo of the selected position.
    Photo,
    /// The notes on the selected position.
    Note,
}

impl View {
    /// Whether this field is the one that is to take the keyboard; it is asked for no more.
    pub fn takes(&mut self, field: Field) -> bool {
        self.to_field.take_if(|wanted| *wanted == field).is_some()
    }
}

/// State of all views.
#[derive(Clone, Debug, Default)]
pub struct View {
    /// Page shown.
    pub page: Page,
    /// Selected.
    pub selected: Option<Spot>,
    /// Row the keyboard is on.
    pub cursor: Option<Spot>,
    /// The cursor was moved by keys: bring it into sight and give it the focus.
    pub reveal: bool,
    /// How much of the board is told.
    pub density: Density,
    /// What is looked for on the board; the rest steps back.
    pub filter: Option<Filter>,
    /// Places whose companions are unfolded where each place has a line.
    pub unfolded: BTreeSet<String>,
    /// Systems folded on the board.
    pub folded: BTreeSet<String>,
    /// Text of the find field.
    pub find: String,
    /// The find field is to take the keyboard.
    pub find_focus: bool,
    /// What the find field or the palette finds.
    pub search: Search,
    /// List behind a figure.
    pub behind: Option<Behind>,
    /// The list that led to what is selected.
    pub came_from: Option<Behind>,
    /// The place whose panel led to the companion that is selected.
    pub came_from_place: Option<String>,
    /// What the panel showed last: something else begins at its top.
    pub panel_at: Option<(Option<Behind>, Option<Spot>)>,
    /// Dialog.
    pub dialog: Option<Dialog>,
    /// Message.
    pub message: Option<Message>,
    /// What has to be read before it goes: complete sentences, the oldest first.
    pub unread: Vec<String>,
    /// Rows drawn last.
    pub rows: Vec<Row>,
    /// Buy list.
    pub buying: BuyState,
    /// The money page.
    pub money: MoneyState,
    /// The plans side by side.
    pub plans: PlansState,
    /// What is printed or saved.
    pub printing: Printing,
    /// The work.
    pub jobs: JobsState,
    /// The walk round the vehicle.
    pub walk: WalkState,
    /// The vehicle.
    pub vehicle: VehicleState,
    /// The library page.
    pub library: LibraryState,
    /// The owner's library.
    pub own_library: OwnLibrary,
    /// Offers.
    pub offers: Offers,
    /// What the remedies of the clashes would bring.
    pub cures: Cures,
    /// What would clear the clashes together.
    pub clearing: Clearing,
    /// When that was first shown, in seconds.
    pub clearing_since: Option<f64>,
    /// What else the panel shows.
    pub details: Details,
    /// Reason being typed for leaving a companion out: key and text.
    pub waive: Option<(CompanionKey, String)>,
    /// From where on a line is dear or takes long.
    pub bounds: Bounds,
    /// One of the two as it is being typed, by the name of its field.
    pub bounds_typed: Option<(&'static str, String)>,
    /// Values being measured, as typed, by the key of their fact.
    pub measuring: BTreeMap<FactKey, String>,
    /// The field of the panel that is to take the keyboard once it is drawn.
    pub to_field: Option<Field>,
    /// What was seen, being typed: position and text.
    pub survey: Option<(String, String)>,
    /// The date of what was found, being typed: position and text.
    pub made: Option<(String, String)>,
    /// A note being typed: position and text.
    pub note: Option<(String, String)>,
    /// The system quantities are shown in.
    pub measure: Measure,
    /// Path of a photo being typed: position and text.
    pub photo: Option<(String, String)>,
    /// Photos shown small.
    pub small: Smalls,
    /// The user's own parts.
    pub parts: Parts,
    /// A system that is to come to the top of the board.
    pub to_system: Option<String>,
    /// A one-way step that waits for a yes.
    pub ask: Option<Ask>,
    /// The fit-up page.
    pub fitup: FitUp,
    /// The page "How it works".
    pub how: How,
}

/// Positions tied to what is selected, by companions, clashes and unknowns.
pub fn ties(a: &Assessment, selected: Option<&Spot>) -> BTreeSet<Spot> {
    let mut out = BTreeSet::new();
    let place = |id: &String| Spot::Position(id.clone());
    match selected {
        None => {}
        Some(Spot::Position(id)) => {
            for c in &a.companions {
                if c.cause.as_ref() == Some(id) {
                    out.insert(Spot::Companion(c.key.clone()));
                    out.extend(c.position.as_ref().map(place));
                } else if c.position.as_ref() == Some(id) {
                    out.insert(Spot::Companion(c.key.clone()));
                    out.extend(c.cause.as_ref().map(place));
                }
            }
            let groups =
                a.clashes.iter().map(|c| &c.positions).chain(a.to_measure.iter().map(|m| &m.positions));
            for group in groups.filter(|g| g.contains(id)) {
                out.extend(group.iter().map(place));
            }
        }
        Some(Spot::Companion(key)) => {
            if let Some(c) = a.companions.iter().find(|c| c.key == *key) {
                out.extend(c.position.iter().chain(&c.cause).map(place));
                out.extend(c.parent.clone().map(Spot::Companion));
                let with = a.companions.iter().filter(|o| o.parent.as_ref() == Some(key));
                out.extend(with.map(|o| Spot::Companion(o.key.clone())));
            }
        }
    }
    if let Some(spot) = selected {
        out.remove(spot);
    }
    out
}
