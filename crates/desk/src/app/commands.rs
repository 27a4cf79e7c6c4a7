//! Every command once, with its label and keys: menus, palette and keyboard are derived from it.

use egui::{Key, KeyboardShortcut, Modifiers};
use knockon_core::sheet::LineState;

/// A command of the desk.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Command {
    /// A new sheet.
    New,
    /// Open a sheet.
    Open,
    /// Save the sheet.
    Save,
    /// Save under another name.
    SaveAs,
    /// The example.
    OpenExample,
    /// The buy list as a file.
    ExportBuyList,
    /// A paper of the sheet, on paper or as a file.
    Print,
    /// Take back.
    Undo,
    /// Take again.
    Redo,
    /// What was done.
    History,
    /// The board.
    Board,
    /// The buy list.
    Buying,
    /// What may be spent beside what is.
    Money,
    /// The plans side by side.
    Plans,
    /// Say where it goes.
    Direct,
    /// What it would come to, before it is bought.
    BeforeBuying,
    /// The work in its order.
    Jobs,
    /// The walk round the vehicle.
    Walk,
    /// The vehicle as it is.
    Vehicle,
    /// Every part there is, found by words, ports and numbers.
    Library,
    /// The owner's library: what both it and another have.
    OwnLibrary,
    /// Into the field for a library that is to be taken in.
    TakeIn,
    /// Drawings to scale.
    FitUp,
    /// Parts of the user's own.
    MyParts,
    /// A part of the user's own for the selected position.
    OwnPart,
    /// To the survey of the selected position.
    Survey,
    /// Another plan, which begins as the one that is open.
    CopyPlan,
    /// A name for the plan.
    RenamePlan,
    /// The plan that is open goes out of the sheet.
    DropPlan,
    /// A name for the sheet.
    RenameSheet,
    /// The start page.
    StartPage,
    /// Take what clears all clashes together.
    ClearAll,
    /// Take what clears the clashes of the selected place, as the best way does.
    ClearHere,
    /// The second way.
    ClearHereSecond,
    /// The third way.
    ClearHereThird,
    /// A row a system.
    Systems,
    /// A line a place.
    Places,
    /// Every companion with its reason.
    Everything,
    /// Say yes to all companions that are needed.
    AcceptNeeded,
    /// To the next thing that is unresolved.
    NextOpen,
    /// To the one before.
    LastOpen,
    /// Fold or unfold all systems.
    FoldAll,
    /// To the find field.
    Find,
    /// All commands.
    Palette,
    /// Light or dark.
    LightDark,
    /// Inch or metric.
    InchMetric,
    /// The sheet goes by the libraries as they are here.
    TakeLibraries,
    /// Show the vehicle above the board, or fold it away.
    Elevation,
    /// Accept the companion that is selected, or all that the selected place brings.
    AcceptHere,
    /// The line of what is selected is to be bought.
    MarkToBuy,
    /// It is on order.
    MarkOnOrder,
    /// It is in hand.
    MarkInHand,
    /// It is fitted.
    MarkFitted,
    /// Into the field of the first measurement asked for.
    MeasureHere,
    /// The cautions of the plan.
    Cautions,
    /// Into the field of a photo of the selected place.
    PhotoHere,
    /// Into the notes on the selected place.
    NoteHere,
    /// Everything larger.
    Larger,
    /// Everything smaller.
    Smaller,
    /// Everything as large as it was.
    OwnSize,
    /// Everything half as large again, for hands that do not aim well, or back.
    BigHands,
    /// Nothing moves by itself, or it does again.
    LessMotion,
    /// The keys of the view.
    Keys,
    /// The page that says how it works.
    HowItWorks,
    /// Close the window.
    Close,
}

impl Command {
    /// All of them, in palette order.
    pub const ALL: [Self; 65] = [
        Self::Walk,
        Self::Board,
        Self::Buying,
        Self::Plans,
        Self::Direct,
        Self::BeforeBuying,
        Self::Money,
        Self::Jobs,
        Self::Vehicle,
        Self::FitUp,
        Self::Library,
        Self::OwnLibrary,
        Self::TakeIn,
        Self::MyParts,
        Self::OwnPart,
        Self::Survey,
        Self::StartPage,
        Self::ClearAll,
        Self::ClearHere,
        Self::ClearHereSecond,
        Self::ClearHereThird,
        Self::AcceptNeeded,
        Self::NextOpen,
        Self::LastOpen,
        Self::Systems,
        Self::Places,
        Self::Everything,
        Self::FoldAll,
        Self::Find,
        Self::Undo,
        Self::Redo,
        Self::History,
        Self::New,
        Self::Open,
        Self::Save,
        Self::SaveAs,
        Self::OpenExample,
        Self::Print,
        Self::ExportBuyList,
        Self::CopyPlan,
        Self::RenamePlan,
        Self::DropPlan,
        Self::RenameSheet,
        Self::TakeLibraries,
        Self::AcceptHere,
        Self::MarkToBuy,
        Self::MarkOnOrder,
        Self::MarkInHand,
        Self::MarkFitted,
        Self::MeasureHere,
        Self::NoteHere,
        Self::PhotoHere,
        Self::Cautions,
        Self::LightDark,
        Self::InchMetric,
        Self::Larger,
        Self::Smaller,
        Self::OwnSize,
        Self::BigHands,
        Self::LessMotion,
        Self::Elevation,
        Self::Keys,
        Self::Palette,
        Self::HowItWorks,
        Self::Close,
    ];

    /// Those that set where the line of what is selected stands.
    pub const MARK: [(Self, LineState); 4] = [
        (Self::MarkToBuy, LineState::ToBuy),
        (Self::MarkOnOrder, LineState::OnOrder),
        (Self::MarkInHand, LineState::InHand),
        (Self::MarkFitted, LineState::Fitted),
    ];

    /// Those that clear what does not fit at the selected place, the best way first.
    pub const CLEAR_HERE: [Self; 3] = [Self::ClearHere, Self::ClearHereSecond, Self::ClearHereThird];

    /// Those of the file menu; `None` is a rule.
    pub const FILE: [Option<Self>; 15] = [
        Some(Self::New),
        Some(Self::Open),
        Some(Self::OpenExample),
        None,
        Some(Self::Save),
        Some(Self::SaveAs),
        Some(Self::Print),
        Some(Self::ExportBuyList),
        None,
        Some(Self::Vehicle),
        Some(Self::MyParts),
        Some(Self::OwnLibrary),
        Some(Self::StartPage),
        Some(Self::HowItWorks),
        Some(Self::Close),
    ];

    /// As shown.
    pub fn label(self) -> &'static str {
        match self {
            Self::New => "New sheet…",
            Self::Open => "Open…",
            Self::Save => "Save",
            Self::SaveAs => "Save as…",
            Self::OpenExample => "Open example",
            Self::ExportBuyList => "Export buy list…",
            Self::Print => "Print or save…",
            Self::Undo => "Undo",
            Self::Redo => "Redo",
            Self::History => "History…",
            Self::Board => "Board",
            Self::Buying => "Buying",
            Self::Money => "Money",
            Self::Plans => "Plans",
            Self::Direct => "Where it goes…",
            Self::BeforeBuying => "Before buying",
            Self::Jobs => "Jobs",
            Self::Walk => "Survey",
            Self::Vehicle => "Vehicle",
            Self::FitUp => "Fit-up",
            Self::Library => "Library",
            Self::OwnLibrary => "My library",
            Self::TakeIn => "Take a library in…",
            Self::MyParts => "My parts",
            Self::OwnPart => "Add my own part here…",
            Self::Survey => "Survey of this place",
            Self::CopyPlan => "Another plan like this…",
            Self::RenamePlan => "Rename this plan…",
            Self::DropPlan => "Take this plan out",
            Self::RenameSheet => "Rename this sheet…",
            Self::TakeLibraries => "Take the libraries as they are",
            Self::StartPage => "Start page",
            Self::ClearAll => "Clear all that does not fit",
            Self::ClearHere => "Clear what does not fit here",
            Self::ClearHereSecond => "Clear what does not fit here, the second way",
            Self::ClearHereThird => "Clear what does not fit here, the third way",
            Self::Systems => "Show the systems",
            Self::Places => "Show the places",
            Self::Everything => "Show everything",
            Self::AcceptNeeded => "Accept all that is needed",
            Self::NextOpen => "To the next that is unresolved",
            Self::LastOpen => "Back to the one before that is unresolved",
            Self::FoldAll => "Fold or unfold all systems",
            Self::Find => "Find",
            Self::Palette => "All commands",
            Self::LightDark => "Light or dark",
            Self::InchMetric => "Inch or metric",
            Self::Elevation => "Show or fold the vehicle",
            Self::AcceptHere => "Accept what is selected",
            Self::MarkToBuy => "Mark as to buy",
            Self::MarkOnOrder => "Mark as on order",
            Self::MarkInHand => "Mark as in hand",
            Self::MarkFitted => "Mark as fitted",
            Self::MeasureHere => "Measure here",
            Self::Cautions => "Cautions",
            Self::PhotoHere => "Add a photo here",
            Self::NoteHere => "Write a note here",
            Self::Larger => "Larger",
            Self::Smaller => "Smaller",
            Self::OwnSize => "As large as it was",
            Self::BigHands => "Large controls on or off",
            Self::LessMotion => "Less motion on or off",
            Self::Keys => "Keys of this view",
            Self::HowItWorks => "How it works",
            Self::Close => "Close",
        }
    }

    /// Its keys; the first is the one shown.
    pub fn shortcuts(self) -> &'static [KeyboardShortcut] {
        const fn key(modifiers: Modifiers, key: Key) -> KeyboardShortcut {
            KeyboardShortcut::new(modifiers, key)
        }
        const C: Modifiers = Modifiers::COMMAND;
        const SHIFT: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);
        const ALT: Modifiers = Modifiers::ALT;
        match self {
            Self::New => const { &[key(C, Key::N)] },
            Self::Open => const { &[key(C, Key::O)] },
            Self::Save => const { &[key(C, Key::S)] },
            Self::SaveAs => const { &[key(SHIFT, Key::S)] },
            Self::ExportBuyList => const { &[key(C, Key::E)] },
            Self::Print => const { &[key(C, Key::P)] },
            Self::Money => const { &[key(C, Key::Num8)] },
            Self::Plans => const { &[key(C, Key::Num9)] },
            Self::Undo => const { &[key(C, Key::Z)] },
            Self::Redo => const { &[key(SHIFT, Key::Z), key(C, Key::Y)] },
            Self::History => const { &[key(C, Key::H)] },
            Self::Board => const { &[key(C, Key::Num1)] },
            Self::Buying => const { &[key(C, Key::Num2)] },
            Self::FitUp => const { &[key(C, Key::Num3)] },
            Self::Jobs => const { &[key(C, Key::Num4)] },
            Self::Walk => const { &[key(C, Key::Num7)] },
            Self::Vehicle => const { &[key(C, Key::Num6)] },
            Self::Library => const { &[key(C, Key::Num5)] },
            Self::ClearAll => const { &[key(C, Key::Enter)] },
            Self::ClearHere => const { &[key(ALT, Key::Num1)] },
            Self::ClearHereSecond => const { &[key(ALT, Key::Num2)] },
            Self::ClearHereThird => const { &[key(ALT, Key::Num3)] },
            Self::Survey => const { &[key(C, Key::I)] },
            Self::Systems => const { &[key(ALT, Key::S)] },
            Self::Places => const { &[key(ALT, Key::P)] },
            Self::Everything => const { &[key(ALT, Key::E)] },
            Self::AcceptNeeded => const { &[key(SHIFT, Key::Enter)] },
            Self::NextOpen => const { &[key(Modifiers::NONE, Key::J)] },
            Self::LastOpen => const { &[key(Modifiers::NONE, Key::K)] },
            Self::FoldAll => const { &[key(C, Key::L)] },
            Self::Find => const { &[key(C, Key::F)] },
            Self::Palette => const { &[key(C, Key::K)] },
            Self::HowItWorks => const { &[key(Modifiers::NONE, Key::F1)] },
            Self::Close => const { &[key(C, Key::Q)] },
            Self::MeasureHere => const { &[key(C, Key::M)] },
            Self::Larger => const { &[key(C, Key::Plus), key(C, Key::Equals)] },
            Self::Smaller => const { &[key(C, Key::Minus)] },
            Self::OwnSize => const { &[key(C, Key::Num0)] },
            Self::Keys => const { &[key(Modifiers::NONE, Key::Questionmark)] },
            Self::OpenExample
            | Self::StartPage
            | Self::Direct
            | Self::BeforeBuying
            | Self::CopyPlan
            | Self::RenamePlan
            | Self::DropPlan
            | Self::RenameSheet
            | Self::LightDark
            | Self::MyParts
            | Self::OwnLibrary
            | Self::TakeIn
            | Self::OwnPart
            | Self::InchMetric
            | Self::TakeLibraries
            | Self::AcceptHere
            | Self::MarkToBuy
            | Self::MarkOnOrder
            | Self::MarkInHand
            | Self::MarkFitted
            | Self::Cautions
            | Self::PhotoHere
            | Self::NoteHere
            | Self::BigHands
            | Self::LessMotion
            | Self::Elevation => &[],
        }
    }

    /// The keys as shown.
    pub fn keys(self, ctx: &egui::Context) -> String {
        self.shortcuts().first().map_or_else(String::new, |s| ctx.format_shortcut(s))
    }

    /// The commands whose keys were pressed; longer combinations go first. In a text field undo and redo are the
    /// field's own, and who writes there does not mean the plan.
    pub fn pressed(ctx: &egui::Context) -> Vec<Self> {
        let typing = ctx.text_edit_focused();
        let clears = |c: &Self| matches!(c, Self::ClearAll | Self::AcceptNeeded);
        let mine = |c: &&Self| !(typing && (matches!(c, Self::Undo | Self::Redo) || clears(c)));
        let mut all: Vec<(Self, KeyboardShortcut)> =
            Self::ALL.iter().filter(mine).flat_map(|c| c.shortcuts().iter().map(|s| (*c, *s))).collect();
        // a letter by itself is text where somebody types
        all.retain(|(c, s)| !typing || s.modifiers.any() || *c == Self::HowItWorks);
        all.sort_by_key(|(_, s)| !s.modifiers.shift);
        ctx.input_mut(|i| all.into_iter().filter(|(_, s)| i.consume_shortcut(s)).map(|(c, _)| c).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::Command;

    #[test]
    fn no_two_commands_share_a_key_or_a_label() {
        for (i, a) in Command::ALL.iter().enumerate() {
            for b in &Command::ALL[i + 1..] {
                assert_ne!(a.label(), b.label());
                assert!(!a.shortcuts().iter().any(|s| b.shortcuts().contains(s)), "{a:?} {b:?}");
            }
        }
    }
}
