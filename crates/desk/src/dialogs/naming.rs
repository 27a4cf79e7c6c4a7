//! The dialog that takes a name: for another plan that begins as this one, for this plan, for the sheet.

use egui::{Key, Label, RichText, TextEdit, Vec2};
use knockon_core::sheet::Plan;
use knockon_core::{Edit, Sheet};

use crate::access::heard;
use crate::app::view::Action;
use crate::dialogs::modal::{answers, over};
use crate::dialogs::open::{Naming, Of};
use crate::look::text::{named, select_all};
use crate::look::theme::{strong, tokens};
use crate::look::tokens::HEAD;

impl Naming {
    /// The dialog with the name it begins with.
    pub fn new(sheet: &Sheet, of: Of) -> Self {
        let plan = sheet.plans.get(&sheet.plan).map_or("", |p| p.name.as_str());
        let name = match of {
            Of::Copy => format!("{plan}, another way"),
            Of::Plan => plan.to_owned(),
            Of::Sheet => sheet.name.clone(),
        };
        Self { of, name, fresh: true }
    }

    /// What the name changes, as one step; none where there is no such plan.
    fn edits(&self, sheet: &Sheet) -> Vec<Edit> {
        let name = self.name.trim().to_owned();
        let plan = sheet.plans.get(&sheet.plan);
        let put = |id: String, plan: &Plan| Edit::PutPlan {
            id,
            plan: Some(Box::new(Plan { name: name.clone(), ..plan.clone() })),
        };
        match (self.of, plan) {
            (Of::Sheet, _) => vec![Edit::Rename { name }],
            (Of::Plan, Some(plan)) => vec![put(sheet.plan.clone(), plan)],
            (Of::Copy, Some(plan)) => {
                let free = (1..).map(|n| format!("plan-{n}")).find(|id| !sheet.plans.contains_key(id));
                let id = free.unwrap_or_default();
                // what is said of the first plan is not said of the second
                let plan = Plan { about: String::new(), ..plan.clone() };
                vec![put(id.clone(), &plan), Edit::SwitchPlan { plan: id }]
            }
            (_, None) => Vec::new(),
        }
    }
}

/// Title, verb and a sentence about it.
fn words(of: Of) -> (&'static str, &'static str, &'static str) {
    match of {
        Of::Copy => (
            "Another plan",
            "Begin the plan",
            "It begins with every choice of the plan that is open, which stays as it is. What was bought, measured and \
             found belongs to the sheet and counts in both.",
        ),
        Of::Plan => ("Rename the plan", "Rename", "The plan that is open."),
        Of::Sheet => ("Rename the sheet", "Rename", "Its file keeps its name."),
    }
}

/// Draws the dialog.
pub fn show(ctx: &egui::Context, sheet: &Sheet, naming: &mut Naming) -> Vec<Action> {
    let mut actions = Vec::new();
    let (title, verb, about) = words(naming.of);
    let modal = over(ctx, "naming", title).show(ctx, |ui| {
        ui.set_width(480.0);
        let t = tokens(ui);
        heard::heading(ui, 2, RichText::new(title).font(strong(HEAD)));
        ui.add(Label::new(RichText::new(about).color(t.soft)).wrap());
        ui.add_space(6.0);
        ui.label("Name");
        let field = TextEdit::singleline(&mut naming.name)
            .id(egui::Id::unique("name field"))
            .desired_width(f32::INFINITY)
            .min_size(Vec2::new(0.0, 30.0))
            .align(egui::Align2::LEFT_CENTER);
        let response = named(ui.add(field), "Name");
        if std::mem::take(&mut naming.fresh) {
            response.request_focus();
            select_all(ui, response.id, &naming.name);
        }
        let enter = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        let given = !naming.name.trim().is_empty();
        if answers(ui, verb, given, enter, &mut actions) {
            actions.push(Action::Edit(naming.edits(sheet)));
            actions.push(Action::CloseDialog);
        }
    });
    if modal.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}
