//! What a screen reader is told without being asked: messages as they come, the page that is shown, and what a change does to
//! the sums of the plan.

use egui::Context;
use knockon_core::assessment::Totals;

use crate::access::announce;
use crate::app::App;
use crate::app::view::{Behind, Page};
use crate::wording;

/// What was told last.
#[derive(Debug, Default)]
pub struct Heard {
    message: Option<String>,
    unread: usize,
    page: Option<Page>,
    behind: Option<Behind>,
    plan: String,
    revision: Option<u64>,
    totals: Option<Totals>,
    /// The position whose routes were told, with the revision they are of.
    routes: Option<(u64, String)>,
}

impl App {
    /// Tells what has changed since the last frame.
    pub(crate) fn tell_the_ear(&mut self, ctx: &Context) {
        let say = |text: &str, trouble| announce::say(ctx, text, trouble);
        let page = self.view.page;
        if self.heard.page.replace(page).is_some_and(|before| before != page) {
            say(&format!("{}.", self.page_said()), false);
        }
        let revision = self.document.revision();
        if page != Page::Start && self.heard.revision.replace(revision) != Some(revision) {
            let text = self.change_said();
            say(&text, false);
        }
        self.routes_said(ctx);
        let message = self.view.message.as_ref();
        if message.map(|m| &m.text) != self.heard.message.as_ref() {
            if let Some(message) = message {
                say(&message.text, message.trouble);
            }
            self.heard.message = message.map(|m| m.text.clone());
        }
        let unread = self.view.unread.len();
        if unread > self.heard.unread
            && let Some(text) = self.view.unread.last()
        {
            say(text, true);
        }
        self.heard.unread = unread;
        let behind = self.view.behind;
        if self.heard.behind != behind && behind.is_some() {
            say("The list stands in the panel. F6 leads there.", false);
        }
        self.heard.behind = behind;
    }

    /// The page, with what stands in it.
    fn page_said(&self) -> String {
        let name = self.view.page.name();
        match self.view.page {
            Page::Buying => {
                let n = self.assessment.buy.len();
                format!("{name}, {}", wording::count(n, "line", "lines"))
            }
            Page::Board => format!("{name}, {}", wording::figures(&self.assessment.totals)),
            _ => name.to_owned(),
        }
    }

    /// The plan where it is another, and those sums that a change has changed.
    fn change_said(&mut self) -> String {
        let totals = self.assessment.totals.clone();
        let sheet = self.document.sheet();
        let plan = format!("{}\u{1}{}", sheet.name, sheet.plan);
        let other = self.heard.plan != plan;
        self.heard.plan = plan;
        let before = self.heard.totals.replace(totals.clone());
        if other || before.is_none() {
            let name = sheet.plans.get(&sheet.plan).map_or(sheet.plan.as_str(), |p| p.name.as_str());
            return format!("{}, plan {name}: {}.", sheet.name, wording::figures(&totals));
        }
        sums(&before.unwrap_or_default(), &totals)
    }

    /// How many routes the selected place has, once they are worked out.
    fn routes_said(&mut self, ctx: &Context) {
        let offers = &self.view.offers;
        let Some(list) = offers.list.as_ref().filter(|_| self.view.page == Page::Board) else { return };
        let new = self.heard.routes.as_ref().map(|(_, id)| id) != offers.of.as_ref().map(|(_, id)| id);
        self.heard.routes.clone_from(&offers.of);
        if new {
            let n = wording::count(list.len(), "route", "routes");
            announce::say(ctx, &format!("{n}. F6 leads to them."), false);
        }
    }
}

/// Those sums that are others now, in the words of the strip; nothing where none is.
fn sums(before: &Totals, now: &Totals) -> String {
    let money = |sum: &knockon_core::Amounts| wording::amounts(sum, &now.currency);
    let mut parts = Vec::new();
    for (word, then, sum) in [
        ("to come", &before.money.to_come, &now.money.to_come),
        ("on order", &before.money.committed, &now.money.committed),
        ("spent", &before.money.spent, &now.money.spent),
    ] {
        if then != sum {
            parts.push(format!("{} {word}", money(sum)));
        }
    }
    if before.clashes != now.clashes {
        parts.push(wording::misfits(now.clashes));
    }
    if before.to_measure != now.to_measure {
        parts.push(format!("{} to measure", now.to_measure));
    }
    if before.companions_open != now.companions_open {
        parts.push(format!("{} to decide", wording::count(now.companions_open, "companion", "companions")));
    }
    if parts.is_empty() { String::new() } else { format!("Now {}.", parts.join(", ")) }
}
