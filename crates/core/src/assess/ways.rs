//! What would clear what does not fit: changes at one place or two, told by the joint, limit, pool or need alone.

use std::collections::BTreeSet;

use smallvec::{SmallVec, smallvec};

use super::bench::{Bench, By, CheckKey, Comp, Cure, Key, Trouble};
use super::either::Judged;
use super::fills::Overlay;
use super::trial::{Said, Trial, Way};
use crate::catalogue::{JointId, NeedId, PartId, PositionId, RunId};
use crate::library::Alone;
use crate::sheet::{Route, Verdict};
use crate::value::Verdict3;

/// Looks at a joint, limit, pool or need with other parts in a place, of one search: a quarter of a second (a look takes
/// about a microsecond).
const MOST_LOOKS: usize = 250_000;

/// Pairs of changes that are looked at for one clash.
const MOST_PAIRS: usize = 4_096;

impl Trial<'_> {
    /// Places the owner chooses for, each with all that he may choose there instead.
    pub fn choices(&self) -> Vec<(PositionId, Vec<Said>)> {
        let places = self.bench.v.positions.ids().filter(|pos| !self.is_left_to_plan(*pos));
        let others = |pos: PositionId| {
            let mut here = self.bench.choices_at(pos);
            here.retain(|said| self.bench.ground.owner[pos] != Some(*said));
            (pos, here)
        };
        places.map(others).collect()
    }

    /// What would clear a clash, at other places than those that are changed.
    pub(super) fn ways_of(&mut self, trouble: &Trouble) -> Vec<Way> {
        let mut all: Vec<Way> = Vec::new();
        let mut others: Vec<(PositionId, Vec<Said>)> = Vec::new();
        let told_by_all = self.bench.is_told_by_all(trouble);
        let joint = self.bench.joint_of(trouble);
        let asked_from = self.bench.asked_from(trouble);
        let places: BTreeSet<PositionId> = &self.bench.places_about(trouble) | &asked_from;
        for pos in places {
            if self.laid.contains_key(&pos) {
                continue;
            }
            let follows = self.is_left_to_plan(pos);
            let mut rest: Vec<Said> = Vec::new();
            for said in self.bench.options(pos) {
                // a wish may always be given up, and whatever asks may not be there any more
                let is_wish = matches!(self.bench.owner[pos], Some((Route::Convert, _)));
                let here = trouble.positions.contains(&pos);
                let may = here && (told_by_all || is_wish && said.0 != Route::Convert)
                    || !follows && asked_from.contains(&pos);
                let clears = self.is_cleared(trouble, &[(pos, said)]);
                if !clears {
                    rest.push(said);
                }
                // the plan itself puts in what follows, but for what is in the way there
                if may || clears && !(follows && self.bench.is_in_the_way(pos, said, joint)) {
                    all.push(smallvec![(pos, said)]);
                }
            }
            others.push((pos, rest));
        }
        all.extend(self.by_what_follows(trouble));
        let keeps = |way: &Way| way.iter().all(|(pos, said)| self.given_up(*pos, *said).is_none());
        if !all.iter().any(keeps) {
            all.extend(self.pairs(trouble, &others));
        }
        all
    }

    /// Two changes together of which neither does by itself.
    fn pairs(&mut self, trouble: &Trouble, others: &[(PositionId, Vec<Said>)]) -> Vec<Way> {
        let mut out = Vec::new();
        let mut left = MOST_PAIRS;
        for (at, (one, options)) in others.iter().enumerate() {
            for (other, more) in &others[at + 1..] {
                for way in options.iter().flat_map(|a| more.iter().map(|b| [(*one, *a), (*other, *b)])) {
                    if left == 0 {
                        self.cut = true;
                        return out;
                    }
                    left -= 1;
                    if self.is_cleared(trouble, &way) {
                        out.push(SmallVec::from(way));
                    }
                }
            }
        }
        out
    }

    /// Changes next to a place that follows: with them a part can go in there that clears the clash, and the plan puts it in.
    fn by_what_follows(&mut self, trouble: &Trouble) -> Vec<Way> {
        let joint = self.bench.joint_of(trouble);
        let about = self.bench.places_about(trouble).into_iter();
        let follow: Vec<PositionId> = about.filter(|pos| self.is_left_to_plan(*pos)).collect();
        let mut out: Vec<Way> = Vec::new();
        for pos in follow {
            for said in self.bench.options(pos) {
                if said.0 != Route::Convert || !self.is_cleared(trouble, &[(pos, said)]) {
                    continue;
                }
                let mut ways: Vec<Way> = vec![Way::new()];
                for (next, ends) in self.bench.broken_beside(pos, said, joint) {
                    let mut mended: Vec<(PositionId, Said)> = Vec::new();
                    for end in ends {
                        if self.laid.contains_key(&end) {
                            continue;
                        }
                        for choice in self.bench.options(end) {
                            if self.holds(next, &[(pos, said), (end, choice)]) {
                                mended.push((end, choice));
                            }
                        }
                    }
                    let with = |way: &Way| -> Vec<Way> {
                        let more = mended.iter().filter(|(end, _)| way.iter().all(|(p, _)| p != end));
                        more.map(|change| way.iter().copied().chain([*change]).collect()).collect()
                    };
                    ways = ways.iter().filter(|way| way.len() < 2).flat_map(with).collect();
                }
                out.extend(ways.into_iter().filter(|way| !way.is_empty()));
            }
        }
        out
    }

    /// Whether a clash is cleared by some changes, as far as what it is about tells.
    fn is_cleared(&mut self, trouble: &Trouble, changes: &[(PositionId, Said)]) -> bool {
        self.looked(changes, |bench, overlay| bench.is_in_order(trouble, overlay))
    }

    fn holds(&mut self, joint: JointId, changes: &[(PositionId, Said)]) -> bool {
        self.looked(changes, |bench, overlay| bench.is_joined(joint, overlay))
    }

    /// A look with some changes, the owner's say among them; `false` where there were too many looks.
    fn looked(
        &mut self,
        changes: &[(PositionId, Said)],
        look: impl Fn(&Bench<'_>, &Overlay) -> bool,
    ) -> bool {
        if self.looks >= MOST_LOOKS {
            self.cut = true;
            return false;
        }
        self.looks += 1;
        let overlay = self.bench.overlay_with(changes);
        let say = |(pos, said): &(PositionId, Said)| (*pos, self.bench.owner[*pos].replace(*said));
        let before: SmallVec<[_; 2]> = changes.iter().map(say).collect();
        let answer = look(&self.bench, &overlay);
        before.into_iter().for_each(|(pos, said)| self.bench.owner[pos] = said);
        answer
    }
}

impl Bench<'_> {
    /// Alternatives of a joint are one.
    pub(super) fn one_key(&self, key: CheckKey) -> CheckKey {
        match key {
            CheckKey::Joint(joint) => CheckKey::Joint(self.first_of(joint)),
            other => other,
        }
    }

    /// What can be chosen at a place instead: what was found is kept, unless it may not stay, or another part of the
    /// class is put in; where the owner wished for one, the place may be left without.
    fn options(&self, pos: PositionId) -> Vec<Said> {
        // to say that what is there stays makes its joints count among their alternatives
        let has_alternatives = |joint: &JointId| !self.v.joints[*joint].alternatives.is_empty();
        let may_count = self.owner[pos].is_none() && self.v.joints_at[pos].iter().any(has_alternatives);
        let is_another = |said: &Said| {
            self.put_by(pos, *said) != self.slot(pos).part || may_count && said.0 == Route::Keep
        };
        let mut all = self.choices_at(pos);
        all.retain(is_another);
        all
    }

    fn choices_at(&self, pos: PositionId) -> Vec<Said> {
        let found = self.as_found(pos);
        let keep = (!self.must_go(pos)).then_some((Route::Keep, None));
        let is_wish = matches!(self.ground.owner[pos], Some((Route::Convert, _)));
        let leave_off = (is_wish && found.is_some()).then_some((Route::LeaveOff, None));
        let parts = self.cat.by_class[self.v.positions[pos].class].iter().copied();
        let convert = parts.filter(|part| self.for_sale(*part) && found != Some(*part));
        let convert = convert.map(|part| (Route::Convert, Some(part)));
        keep.into_iter().chain(leave_off).chain(convert).collect()
    }

    /// What was found may not stay: the survey stopped it, or says to renew what can hurt people.
    fn must_go(&self, pos: PositionId) -> bool {
        let found = self.as_found(pos);
        let finding = self.ground.survey.get(&self.v.positions[pos].id);
        found.zip(finding).is_some_and(|(part, finding)| match finding.verdict {
            Verdict::Stop => true,
            Verdict::Renew => self.part(part).part.safety,
            Verdict::Good | Verdict::Watch => false,
        })
    }

    fn put_by(&self, pos: PositionId, (route, part): Said) -> Option<PartId> {
        match route {
            Route::LeaveOff => None,
            Route::Convert => part,
            _ => self.as_found(pos),
        }
    }

    /// Parts in places with some changes: what lies in the box of a kit goes with it.
    fn overlay_with(&self, changes: &[(PositionId, Said)]) -> Overlay {
        let mut out: Overlay = changes.iter().map(|(pos, said)| (*pos, self.put_by(*pos, *said))).collect();
        for (pos, said) in changes.iter().filter(|(pos, _)| self.v.has_kits[*pos]) {
            if let Some(part) = self.put_by(*pos, *said) {
                out.extend(self.overlay(*pos, part).into_iter().skip(1));
            }
            let of_box = self.slots.iter().filter(|(_, slot)| slot.by == By::Kit(*pos));
            let gone: SmallVec<[PositionId; 4]> = of_box.map(|(at, _)| at).filter(|at| at != pos).collect();
            out.extend(gone.into_iter().map(|at| (at, self.as_found(at))));
        }
        out
    }

    /// Places where a change could clear a clash.
    pub(super) fn places_about(&self, trouble: &Trouble) -> BTreeSet<PositionId> {
        let mut out = self.places_to_look(trouble);
        out.extend(trouble.positions.iter().copied());
        out.extend(self.term_of(trouble).into_iter().flat_map(|term| self.all_places_about(term)));
        let kit = |pos: &PositionId| match self.slot(*pos).by {
            By::Kit(kit) => Some(kit),
            _ => None,
        };
        let kits: SmallVec<[PositionId; 4]> = out.iter().filter_map(kit).collect();
        out.extend(kits);
        out
    }

    /// Places whose companions ask for what is missing, or take from what is overdrawn: something else there may want none
    /// of them.
    fn asked_from(&self, trouble: &Trouble) -> BTreeSet<PositionId> {
        let asks = |comp: &Comp| match (trouble.cure, trouble.key) {
            (Cure::Pool(pool), _) => {
                comp.position.is_none() && self.part(comp.part).takes.iter().any(|(taken, _)| *taken == pool)
            }
            (Cure::Need(_), CheckKey::Need(_, asker, _)) => comp.part == asker,
            _ => false,
        };
        let mut out = BTreeSet::new();
        for comp in self.found.comps.iter().filter(|comp| asks(comp)) {
            out.extend(comp.by.into_iter().chain(comp.cause));
            if let Key::Bridge(joint, _) | Key::Cap(joint) = comp.key {
                out.extend(self.ends_of_either(joint));
            }
        }
        out
    }

    /// Whether any change at its places may clear a clash, though nothing tells before it is tried: a companion asks.
    fn is_told_by_all(&self, trouble: &Trouble) -> bool {
        let CheckKey::Need(_, asker, _) = trouble.key else { return matches!(trouble.cure, Cure::None) };
        !trouble.positions.iter().any(|pos| self.slot(*pos).part == Some(asker))
    }

    /// Whether what a clash is about is in order with some parts in their places.
    fn is_in_order(&self, trouble: &Trouble, overlay: &Overlay) -> bool {
        match trouble.cure {
            Cure::None => false,
            Cure::Ends(joint) | Cure::Alone(joint) => self.is_joined(joint, overlay),
            Cure::Pool(pool) => self.pool_sum(pool, overlay).verdict() != Verdict3::Broken,
            Cure::Limit(limit) => self.limit_verdict(limit, overlay) != Some(Verdict3::Broken),
            Cure::Need(need) => {
                let CheckKey::Need(_, asker, _) = trouble.key else { return false };
                let asks = |part: PartId| self.part(part).needs.iter().any(|(n, ..)| *n == need);
                let wanted = self.wanted_of(asker, need);
                let asked = trouble.positions.first().map(|pos| self.v.whereabouts(*pos));
                overlay.iter().any(|(pos, part)| {
                    let goes_with = asked.is_none_or(|at| at.goes_with(self.v.whereabouts(*pos)));
                    let offers = part.is_some_and(|part| self.offers_it(part, need, wanted));
                    let asked_here = self.slot(*pos).part == Some(asker) && asks(asker);
                    goes_with && offers || asked_here && !part.is_some_and(asks)
                }) || !asks(asker) && self.raises_no_more(need, overlay)
            }
        }
    }

    /// Whether no limit asks for a need any more with some parts in their places.
    fn raises_no_more(&self, need: NeedId, overlay: &Overlay) -> bool {
        let raises =
            |run: &RunId| self.limit_of(*run).raises.as_ref().is_some_and(|(raised, _)| *raised == need);
        let mut raising = self.v.limits.ids().filter(raises);
        raising.all(|run| self.limit_verdict(run, overlay) != Some(Verdict3::Broken))
    }

    /// Whether a joint or one of its alternatives goes together with some parts in their places.
    fn is_joined(&self, joint: JointId, overlay: &Overlay) -> bool {
        self.is_as_found(joint, overlay)
            || match self.judged(self.first_of(joint), overlay) {
                Judged::Broken(_) => false,
                Judged::Alone(_, (_, port)) => match port.alone {
                    Alone::Fine | Alone::Surplus => true,
                    Alone::Cap => self.cap_for(port).is_some(),
                    Alone::Required => false,
                },
                Judged::Nothing | Judged::Holds(_) | Judged::Open(_) | Judged::Bridged(..) => true,
            }
    }

    /// The joint a clash is at.
    fn joint_of(&self, trouble: &Trouble) -> Option<JointId> {
        match trouble.cure {
            Cure::Ends(joint) | Cure::Alone(joint) => Some(self.first_of(joint)),
            _ => None,
        }
    }

    /// Something that does not follow is in the way of a part at a place that does.
    fn is_in_the_way(&self, pos: PositionId, said: Said, joint: Option<JointId>) -> bool {
        self.broken_beside(pos, said, joint).iter().any(|(_, ends)| !ends.is_empty())
    }

    /// Other joints of a place that a part there breaks, each with its other ends that do not follow.
    fn broken_beside(
        &self,
        pos: PositionId,
        said: Said,
        except: Option<JointId>,
    ) -> Vec<(JointId, SmallVec<[PositionId; 4]>)> {
        let overlay = self.overlay_with(&[(pos, said)]);
        let mut joints: Vec<JointId> = self.v.joints_at[pos].iter().map(|j| self.first_of(*j)).collect();
        joints.sort_unstable();
        joints.dedup();
        joints.retain(|joint| Some(*joint) != except && !self.is_joined(*joint, &overlay));
        let ends = |joint: &JointId| {
            let others = self.ends_of_either(*joint).filter(|end| *end != pos && !self.may_fill(*end));
            (*joint, others.collect())
        };
        joints.iter().map(ends).collect()
    }
}
