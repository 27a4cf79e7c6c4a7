//! The sessions of the work as a calendar that other programs read (RFC 5545): a day for each session that holds work, and
//! one for each last day to order something. Whole days, for nobody said at which hour.

use icalendar::{Calendar, Component, Event, Property};
use knockon_core::assessment::Assessment;
use knockon_core::date::Date;
use knockon_core::jobs::Jobs;
use knockon_core::schedule::Schedule;
use knockon_core::seal;

use crate::schedule::{hours, name_of, parts_of, to_order, weeks};

/// The calendar; `None`: no day is known. The same in gives the same out: no clock, no number of chance.
#[must_use]
pub fn calendar(found: &Jobs, plan: &Schedule, a: &Assessment, vehicle: &str) -> Option<String> {
    let stamp = plan.settings.today.or(plan.settings.first)?;
    let mut out = Calendar::new();
    // the crate names itself there
    out.properties.retain(|property| property.key() != "PRODID");
    out.append_property(Property::new("PRODID", "-//Knockon//Jobs//EN"));
    out.append_property(Property::new("X-KNOCKON-SEAL", seal::PLACE));
    let name = |id: &str| name_of(found, id).to_owned();
    let mut put = |id: &str, day: Date, summary: String, description: String| {
        let mut event = Event::new();
        event.add_property("UID", format!("{id}@{vehicle}.knockon.invalid"));
        event.add_property("DTSTAMP", format!("{}T000000Z", compact(stamp)));
        event.append_property(whole_day("DTSTART", day));
        if let Ok(next) = day.tomorrow() {
            event.append_property(whole_day("DTEND", next));
        }
        event.summary(&summary).description(&description);
        event.add_property("TRANSP", "TRANSPARENT");
        out.push(event.done());
    };
    for session in &plan.sessions {
        let (Some(day), Some(first)) = (session.day, session.blocks.first()) else { continue };
        let more = match session.blocks.len() {
            1 => String::new(),
            n => format!(" and {} more", n - 1),
        };
        let lines = session.blocks.iter().map(|block| {
            let mut line = format!("{} ({})", name(&block.job), hours(block.minutes));
            if block.piece.1 > 1 {
                line.push_str(&format!(", part {} of {}", block.piece.0, block.piece.1));
            }
            let parts = found.jobs.iter().find(|job| job.id == block.job).map(|job| parts_of(job, a));
            if let Some(parts) = parts.filter(|parts| !parts.is_empty()) {
                line.push_str(&format!("\n  with: {}", parts.join("; ")));
            }
            line
        });
        let text = lines.collect::<Vec<_>>().join("\n");
        put(&format!("session-{day}"), day, format!("{}{more}", name(&first.job)), text);
    }
    for order in &plan.orders {
        let Some(latest) = order.latest else { continue };
        // what is overdue is ordered today
        let day = latest.max(stamp);
        let takes = order.weeks.map_or_else(String::new, |of| format!(", {} from the order", weeks(of)));
        let text = format!(
            "For: {}{takes}. This is the last day on which it can be here in time.",
            name(&order.job)
        );
        put(&format!("order-{}", order.part), day, format!("Order: {}", to_order(order)), text);
    }
    if let Some(wanted) = plan.settings.wanted {
        put("wanted", wanted, "Wanted".to_owned(), "The day on which the vehicle is wanted.".to_owned());
    }
    Some(folded(&out.to_string()))
}

/// Lines of 75 octets at most (RFC 5545, 3.1): the last piece of a line comes out one too long.
fn folded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for line in text.replace("\r\n ", "").split_terminator("\r\n") {
        let mut octets = 0;
        for letter in line.chars() {
            if octets + letter.len_utf8() > 75 {
                out.push_str("\r\n ");
                octets = 1;
            }
            out.push(letter);
            octets += letter.len_utf8();
        }
        out.push_str("\r\n");
    }
    out
}

fn whole_day(word: &str, day: Date) -> Property {
    Property::new(word, compact(day)).append_parameter(icalendar::Parameter::new("VALUE", "DATE")).done()
}

fn compact(day: Date) -> String {
    day.to_string().replace('-', "")
}
