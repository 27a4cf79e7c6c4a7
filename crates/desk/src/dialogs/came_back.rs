//! The dialog for money that came back: of a price, or of the deposit on the old part.

use egui::{Button, Key, Label, RichText, TextEdit, Ui, Vec2};
use knockon_core::assessment::Assessment;
use knockon_core::refund::CameBack;
use knockon_core::{Edit, Money, Sheet, money};

use crate::access::heard;
use crate::app::view::Action;
use crate::dialogs::modal::{answers, over};
use crate::dialogs::open::Returned;
use crate::look::text::{named, select_all};
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{HEAD, TARGET, Tokens};
use crate::wording;

/// Name of each field, and a sentence about it.
const FIELDS: [(CameBack, &str, &str); 2] = [
    (CameBack::Refund, "Refunded", "Of the price: for what went back, came short, or cost less in the end."),
    (
        CameBack::Core,
        "Core deposit returned",
        "What a rebuilt part is sold with on top, until the old one is handed in.",
    ),
];

impl Returned {
    /// The dialog with what the buying record has.
    pub fn new(sheet: &Sheet, part: &str) -> Self {
        let has = |what| {
            let money = sheet.lines.get(part).and_then(|line| line.came_back.get(&what));
            money.map_or_else(String::new, ToString::to_string)
        };
        Self { part: part.to_owned(), refund: has(CameBack::Refund), core: has(CameBack::Core), fresh: true }
    }

    /// Nothing has been typed.
    pub fn is_as_stored(&self, sheet: &Sheet) -> bool {
        let stored = Self::new(sheet, &self.part);
        (&self.refund, &self.core) == (&stored.refund, &stored.core)
    }

    fn text(&mut self, what: CameBack) -> &mut String {
        match what {
            CameBack::Refund => &mut self.refund,
            CameBack::Core => &mut self.core,
        }
    }

    /// What was typed for one; nothing and 0 are nothing.
    fn read(&mut self, what: CameBack, currency: &str) -> Result<Option<Money>, String> {
        let read = money::typed(self.text(what), currency).map_err(|why| why.to_string())?;
        Ok(read.filter(|money| !money.amount.is_zero()))
    }

    /// What is changed by it, as one step.
    fn edits(&mut self, sheet: &Sheet, currency: &str) -> Vec<Edit> {
        let mut out = Vec::new();
        for what in CameBack::ALL {
            let stored = sheet.lines.get(&self.part).and_then(|line| line.came_back.get(&what)).cloned();
            if let Ok(amount) = self.read(what, currency)
                && amount != stored
            {
                out.push(Edit::SetCameBack { part: self.part.clone(), what, amount });
            }
        }
        out
    }
}

/// Opens the dialog: what came back, or that something may.
pub fn button(ui: &mut Ui, t: &Tokens, part: &str, name: &str, told: Option<&str>) -> Option<Action> {
    let text = RichText::new(told.unwrap_or("money back…")).font(theme::small());
    let text = if told.is_some() { text.color(t.ink) } else { text.color(t.soft) };
    let response = ui.add(Button::new(text).frame(false).min_size(Vec2::new(0.0, TARGET - 4.0)));
    let label = format!("Money that came back for {name}");
    response.widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, &label));
    let hover =
        "Money that came back: a refund, or the deposit on the old part. It is counted off what is spent.";
    response.on_hover_text(hover).clicked().then(|| Action::CameBack(part.to_owned()))
}

/// Draws the dialog.
pub fn show(ctx: &egui::Context, a: &Assessment, sheet: &Sheet, back: &mut Returned) -> Vec<Action> {
    let mut actions = Vec::new();
    let line = a.buy.iter().find(|line| line.part == back.part && line.waived.is_none());
    let price = line.and_then(|line| line.total.as_ref());
    let paid = sheet.lines.get(&back.part).and_then(|line| line.paid.as_ref());
    let currency = price.or(paid).map_or_else(|| a.totals.currency.clone(), |m| m.currency.clone());
    let modal = over(ctx, "came back", "Money that came back").show(ctx, |ui| {
        ui.set_width(460.0);
        let t = tokens(ui);
        heard::heading(ui, 2, RichText::new("Money that came back").font(strong(HEAD)));
        let name = line.map_or(back.part.as_str(), |line| line.name.as_str());
        let of = price
            .map_or_else(String::new, |m| format!(", {} in all", wording::amount(m.amount, &m.currency)));
        ui.add(Label::new(RichText::new(format!("For {name}{of}. It is counted off.")).color(t.soft)).wrap());
        let (mut enter, mut sound) = (false, true);
        for (what, label, about) in FIELDS {
            ui.add_space(6.0);
            ui.label(label);
            let first = what == CameBack::Refund;
            let field = TextEdit::singleline(back.text(what))
                .id(egui::Id::unique(("came back field", what)))
                .desired_width(f32::INFINITY)
                .min_size(Vec2::new(0.0, 30.0))
                .hint_text("nothing")
                .align(egui::Align2::LEFT_CENTER);
            let response = named(ui.add(field), label);
            if first && std::mem::take(&mut back.fresh) {
                response.request_focus();
                select_all(ui, response.id, back.text(what));
            }
            enter |= response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
            let (text, tone) = match back.read(what, &currency) {
                Ok(_) => (about.to_owned(), t.soft),
                Err(why) => {
                    sound = false;
                    (format!("{why}."), t.warm)
                }
            };
            let told = ui.add(Label::new(RichText::new(&text).font(theme::small()).color(tone)).wrap());
            if tone == t.warm {
                heard::wrong(&response, &told, &text);
            } else {
                heard::described(&response, &text);
            }
        }
        if answers(ui, "Take it in", sound, enter, &mut actions) {
            let edits = back.edits(sheet, &currency);
            if !edits.is_empty() {
                actions.push(Action::Edit(edits));
            }
            actions.push(Action::CloseDialog);
        }
    });
    if modal.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}
