//! What the vehicle is worth by the owner's own figures, and what each way on from here leaves.

use egui::{Align2, Label, RichText, Ui, UiBuilder, Vec2, pos2};
use knockon_core::money;
use knockon_core::onward::{On, Way};
use knockon_core::sheet::Worth;
use knockon_core::{Edit, Money, Sheet};
use knockon_report::onward::most;

use crate::access::heard;
use crate::app::App;
use crate::app::view::Action;
use crate::look::text::figures;
use crate::look::theme::{self, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::look::typed::Typed;
use crate::plans::state::PlansState;
use crate::plans::table::{Columns, NAME, RIM, ground, said};
use crate::plans::told::SideBySide;
use crate::wording;

/// Width of a field.
const FIELD: f32 = 136.0;

/// Whose worth a field holds.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Field {
    /// Of a plan that is done, by its id.
    Done(String),
    /// Sold whole.
    AsItStands,
    /// Sold in parts.
    InParts,
}

impl Field {
    /// All of a sheet.
    fn all(sheet: &Sheet) -> Vec<Self> {
        let plans = sheet.plans.keys().cloned().map(Self::Done);
        plans.chain([Self::AsItStands, Self::InParts]).collect()
    }

    /// Its name, the only one of the page.
    fn name(&self, sheet: &Sheet) -> String {
        match self {
            Self::Done(id) => {
                let plan = sheet.plans.get(id).map_or(id.as_str(), |plan| plan.name.as_str());
                format!("Worth once it is done: {plan} ({id})")
            }
            Self::AsItStands => "Worth as it stands".to_owned(),
            Self::InParts => "Worth in parts".to_owned(),
        }
    }

    /// What stands in it.
    fn now(&self, worth: &Worth) -> String {
        let money = match self {
            Self::Done(id) => worth.done.get(id),
            Self::AsItStands => worth.as_it_stands.as_ref(),
            Self::InParts => worth.in_parts.as_ref(),
        };
        money.map_or_else(String::new, ToString::to_string)
    }

    /// The worth with what is typed into it.
    fn put(&self, worth: &Worth, text: &str, currency: &str) -> Result<Worth, String> {
        let money = money::typed(text, currency).map_err(|why| format!("{why}."))?;
        let mut now = worth.clone();
        match self {
            Self::Done(id) => match money {
                Some(money) => drop(now.done.insert(id.clone(), money)),
                None => drop(now.done.remove(id)),
            },
            Self::AsItStands => now.as_it_stands = money,
            Self::InParts => now.in_parts = money,
        }
        Ok(now)
    }
}

impl App {
    /// Takes in what has been typed and not been left; what cannot be read stays in its field.
    pub(crate) fn take_worth(&mut self) {
        for field in Field::all(self.document.sheet()) {
            let name = field.name(self.document.sheet());
            let Some(text) = self.view.plans.fields.typed.get(&name) else { continue };
            let worth = self.document.sheet().worth.clone();
            let Ok(now) = field.put(&worth, text, &self.assessment.totals.currency) else { continue };
            self.view.plans.fields.typed.remove(&name);
            if now != worth {
                self.edit(&[Edit::SetWorth { worth: Box::new(now) }]);
            }
        }
    }
}

fn field(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    currency: &str,
    field: &Field,
    state: &mut PlansState,
    actions: &mut Vec<Action>,
) {
    let name = field.name(sheet);
    let typed = Typed { name: &name, now: field.now(&sheet.worth), hint: "your figure", wide: FIELD - 10.0 };
    let read = |text: &str| field.put(&sheet.worth, text, currency);
    let (response, now) = typed.draw(ui, &mut state.fields, Align2::RIGHT_CENTER, read);
    if let Some(why) = state.fields.trouble_of(&name).map(str::to_owned) {
        let told = ui.colored_label(t.warm, &why);
        heard::wrong(&response, &told, &why);
    }
    if let Some(now) = now.filter(|now| *now != sheet.worth) {
        actions.push(Action::Edit(vec![Edit::SetWorth { worth: Box::new(now) }]));
    }
}

/// The rows of the table: what each plan is worth once it is done, and what it leaves from here.
pub fn rows(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    beside: &SideBySide,
    columns: &Columns,
    state: &mut PlansState,
    actions: &mut Vec<Action>,
) {
    let name = "Worth then, by you";
    let now = |id: &String| sheet.worth.done.get(id).map_or_else(String::new, told);
    let cells: Vec<String> = beside.plans.iter().map(|plan| now(&plan.id)).collect();
    let rect = ground(ui, t, columns, &said(beside, name, &cells));
    let at = pos2(rect.left() + NAME, rect.center().y);
    ui.painter().text(at, Align2::LEFT_CENTER, name, theme::body(), t.ink);
    for (i, plan) in beside.plans.iter().enumerate() {
        let cell = columns.of(i, rect.y_range());
        let least = pos2((cell.right() - RIM - FIELD + 8.0).max(cell.left() + 4.0), cell.top() + 1.0);
        let place = egui::Rect::from_min_max(least, pos2(cell.right() - RIM + 8.0, cell.bottom() - 1.0));
        let mut over = ui.new_child(UiBuilder::new().max_rect(place));
        field(&mut over, t, sheet, &beside.currency, &Field::Done(plan.id.clone()), state, actions);
    }
    if sheet.worth.done.is_empty() {
        return;
    }
    let leaves =
        |id: &String| beside.ways.iter().find(|way| way.on == On::Plan(id.clone())).and_then(Way::leaves);
    let all: Vec<Option<Money>> = beside.plans.iter().map(|plan| leaves(&plan.id)).collect();
    let cells: Vec<String> = all.iter().map(|left| left.as_ref().map_or_else(String::new, told)).collect();
    let name = "Leaves, from here";
    let rect = ground(ui, t, columns, &said(beside, name, &cells));
    let middle = rect.center().y;
    ui.painter().text(pos2(rect.left() + NAME, middle), Align2::LEFT_CENTER, name, theme::body(), t.ink);
    for (i, (left, cell)) in all.iter().zip(&cells).enumerate() {
        let right = columns.of(i, rect.y_range()).right() - RIM;
        let is_loss = left.as_ref().is_some_and(|left| left.amount.is_sign_negative());
        figures(
            ui.painter(),
            pos2(right, middle - 9.0),
            cell,
            &strong(BODY),
            if is_loss { t.warm } else { t.ink },
        );
    }
}

fn told(money: &Money) -> String {
    wording::amount(money.amount, &money.currency)
}

/// Below the table: what it brings when it is sold, and which way leaves the most.
pub fn sold(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    beside: &SideBySide,
    state: &mut PlansState,
    actions: &mut Vec<Action>,
) {
    theme::sheet(t).inner_margin(10).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new("Or pass it on").font(strong(BODY)));
            ui.add_space(6.0);
            for (one, name) in [(Field::AsItStands, "as it stands"), (Field::InParts, "in parts")] {
                ui.label(name);
                ui.allocate_ui(Vec2::new(FIELD, TARGET), |ui| {
                    field(ui, t, sheet, &beside.currency, &one, state, actions);
                });
            }
        });
        let text = match most(&beside.ways, told) {
            Some(most) => {
                let spent = beside.plan(&beside.on).map(|plan| &plan.spent).filter(|spent| !spent.is_zero());
                let spent = spent.map(|spent| wording::amounts(spent, &beside.currency));
                let none = spent.map_or_else(String::new, |spent| {
                    format!(" The {spent} that are spent count in none of them.")
                });
                format!("{most}.{none}")
            }
            None => "Say what it would be worth, done by one of the plans or sold as it stands, and the page says which way leaves the \
                     most from here. What is spent counts in none of them."
                .to_owned(),
        };
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    });
}
