//! The sessions as trays: which jobs lie in which, by whom.

use std::collections::BTreeMap;

use crate::date::day;
use crate::schedule::model::Model;
use crate::schedule::path::Path;
use crate::schedule::settings::Settings;
use crate::schedule::solve::{Placed, back, end_of};
use crate::schedule::{Block, Note, Session, Slot};
use crate::sheet::Sheet;

/// So many sessions are told at most: nobody plans further.
const MOST: u64 = 20_000;

/// The sessions.
pub fn sessions(model: &Model, placed: &[Placed], settings: &Settings) -> Vec<Session> {
    let length = settings.minutes;
    let many = end_of(placed).div_ceil(length).min(MOST);
    let mut out: Vec<Session> =
        (0..many).map(|n| Session { day: settings.day_of(n), blocks: Vec::new() }).collect();
    for at in model.order_of(placed) {
        let one = &placed[at];
        let (first, last) = ends(one, length);
        let pieces = usize::try_from(last - first + 1).unwrap_or(1);
        for (piece, session) in (first..=last).enumerate() {
            let from = one.start.max(session * length);
            let to = one.end.min((session + 1) * length);
            let tray = usize::try_from(session).ok().and_then(|session| out.get_mut(session));
            // what takes no time goes with what is before it, at the end too
            let tray = match tray {
                Some(tray) => tray,
                None if from == to && session <= MOST => {
                    let Some(tray) = out.last_mut() else { continue };
                    tray
                }
                None => continue,
            };
            tray.blocks.push(Block {
                job: model.ids[at].clone(),
                from: from - session * length,
                minutes: to - from,
                piece: (piece + 1, pieces),
                people: one.people.clone(),
            });
        }
    }
    out
}

/// First and last session of a task.
fn ends(one: &Placed, length: u64) -> (u64, u64) {
    let first = one.start / length;
    (first, (one.end.max(one.start + 1) - 1) / length)
}

/// Where each job lies.
pub fn slots(model: &Model, placed: &[Placed], path: &Path, settings: &Settings) -> BTreeMap<String, Slot> {
    let hours = |minutes: u64| minutes as f64 / 60.0;
    let one = |at: usize| {
        let (first, last) = ends(&placed[at], settings.minutes);
        let slot = Slot {
            first: usize::try_from(first).unwrap_or(usize::MAX),
            last: usize::try_from(last).unwrap_or(usize::MAX),
            early: path.early.get(at).map_or(0.0, |minutes| hours(*minutes)),
            float: path.early.get(at).map_or(0.0, |_| hours(path.float(at))),
            critical: path.chain.contains(&at),
            waits: model.waits[at].clone(),
        };
        (model.ids[at].clone(), slot)
    };
    (0..placed.len()).map(one).collect()
}

/// Jobs that were moved to a day and do not stand on it, and behind what.
pub fn moved<'a>(
    sheet: &'a Sheet,
    model: &'a Model,
    placed: &'a [Placed],
    settings: &'a Settings,
) -> impl Iterator<Item = Note> + 'a {
    let length = settings.minutes;
    model.ids.iter().enumerate().filter_map(move |(at, id)| {
        let to = day(sheet.pinned.get(id)?).ok()?;
        let meant = settings.session_from(settings.days_until(to)?);
        let stands = placed[at].start / length;
        if stands == meant {
            return None;
        }
        let links = &model.problem.tasks[at].after;
        let behind = links.iter().max_by_key(|link| back(placed[link.task].end, link.sessions, length));
        let part = model.waits[at].iter().max_by_key(|part| part.session);
        let part = part.filter(|part| part.session >= stands).map(|part| part.name.clone());
        let behind = part.or_else(|| behind.map(|link| model.ids[link.task].clone()));
        Some(Note::Moved { job: id.clone(), to, on: settings.day_of(stands)?, behind })
    })
}
