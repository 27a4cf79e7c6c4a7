//! What is inspected, held to classes, zones, cautions and units, and with its bounds as numbers.

use super::build::{Ctx, gather};
use super::built::Built;
use crate::date::Period;
use crate::library::{Against, Bounds, CountedBy, Inspection, LibraryFile, Stage, StageDef, Zone};
use crate::meant::{nearest, then};
use crate::quantity::Quantity;
use crate::sheet::Verdict;
use crate::source::Source;
use crate::units::Dimension;

/// From, to, SI; an end that is `None` is open.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Span {
    /// The least.
    pub least: Option<f64>,
    /// The most.
    pub most: Option<f64>,
}

impl Span {
    /// Whether a value lies in it; what differs from an end by no more than a machine does lies on it.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        let hair = |end: f64| 1e-9 * end.abs().max(1e-12);
        self.least.is_none_or(|least| value >= least - hair(least))
            && self.most.is_none_or(|most| value <= most + hair(most))
    }

    /// Nothing is bounded.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.least.is_none() && self.most.is_none()
    }

    fn is_inside(&self, other: &Self) -> bool {
        let ends = [(self.least, other.least, 1.0), (self.most, other.most, -1.0)];
        ends.iter().all(|(inner, outer, side)| match (inner, outer) {
            (_, None) => true,
            (None, Some(_)) => false,
            (Some(inner), Some(outer)) => (inner - outer) * side >= -1e-12,
        })
    }
}

/// Between which values what is read is good, to be watched, to be renewed. Each lies around the one before it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bands {
    /// Good.
    pub good: Span,
    /// To be watched; `None`: there is nothing between.
    pub watch: Option<Span>,
    /// To be renewed; what is outside stops the vehicle.
    pub renew: Option<Span>,
}

impl Bands {
    /// The verdict of a value; `stop`: what is outside its bounds stops the vehicle.
    #[must_use]
    pub fn verdict(&self, value: f64, stop: bool) -> Verdict {
        if self.good.holds(value) {
            Verdict::Good
        } else if self.watch.is_some_and(|watch| watch.holds(value)) {
            Verdict::Watch
        } else if stop || self.renew.is_some_and(|renew| !renew.holds(value)) {
            Verdict::Stop
        } else {
            Verdict::Renew
        }
    }

    /// Every end of every band.
    pub fn ends(&self) -> impl Iterator<Item = f64> {
        let spans = [Some(self.good), self.watch, self.renew];
        spans.into_iter().flatten().flat_map(|span| [span.least, span.most]).flatten()
    }

    /// The same with each end counted anew.
    #[must_use]
    pub fn map(&self, least: impl Fn(f64) -> f64, most: impl Fn(f64) -> f64) -> Self {
        let span = |of: Span| Span { least: of.least.map(&least), most: of.most.map(&most) };
        Self { good: span(self.good), watch: self.watch.map(span), renew: self.renew.map(span) }
    }

    /// What is not nested, in words.
    fn fault(&self) -> Option<&'static str> {
        if self.good.is_open() {
            return Some("what is good has neither a least nor a most");
        }
        let watch = self.watch.unwrap_or(self.good);
        if !self.good.is_inside(&watch) {
            return Some("what is good must lie inside what is to be watched");
        }
        self.renew
            .is_some_and(|renew| !watch.is_inside(&renew))
            .then_some("what is to be watched must lie inside what is to be renewed")
    }
}

/// How long what is there is good, and then to be watched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ages {
    /// Good for so long.
    pub good: Period,
    /// To be watched for so long; `None`: there is nothing between.
    pub watch: Option<Period>,
}

/// What is read.
#[derive(Clone, Debug, PartialEq)]
pub enum ReadAs {
    /// A quantity, and its bands as they are written.
    Quantity(Dimension, Bands),
    /// The day on which what is there was made.
    Made(Ages),
    /// Words alone.
    Look,
}

/// Other bands for some.
#[derive(Clone, Debug, PartialEq)]
pub struct CaseEntry {
    /// A fact of the vehicle, or a figure of the part, and between which values it must lie.
    pub known: Option<Known>,
    /// A type of port that the part must have.
    pub port_type: Option<String>,
    /// In words.
    pub name: String,
    /// The bands.
    pub bands: Bands,
}

/// What must lie between two values for a case to hold.
#[derive(Clone, Debug, PartialEq)]
pub struct Known {
    /// Figure id.
    pub figure: String,
    /// It is a figure of the part; else a fact of the vehicle.
    pub of_part: bool,
    /// Between these.
    pub span: Span,
}

/// An inspection ready to judge by.
#[derive(Clone, Debug)]
pub struct InspectionEntry {
    /// As written.
    pub def: Inspection,
    /// What is read.
    pub read: ReadAs,
    /// How far the tool may be off, SI; zero where nobody says.
    pub accuracy: f64,
    /// The unit that a bare number is taken in; empty for a plain number.
    pub unit: String,
    /// Other bands; the first that holds counts.
    pub cases: Vec<CaseEntry>,
    /// For [`CountedBy::Each`]: so much, SI.
    pub each: f64,
    /// How long it takes at a vehicle that is for sale, in s; `None`: it is not done there.
    pub quick: Option<f64>,
}

/// The unit behind the number of a text.
#[must_use]
pub fn unit_of(text: &str) -> &str {
    text.trim().trim_start_matches(|c: char| c.is_ascii_digit() || "+-., /".contains(c)).trim()
}

/// Reads bands of a dimension.
///
/// # Errors
/// The word that is wrong, and a sentence with what was expected.
pub fn bands(
    [good, watch, renew]: [Option<&Bounds>; 3],
    dimension: Dimension,
) -> Result<Bands, (&'static str, String)> {
    let end = |text: &Option<String>| {
        text.as_deref().map(|text| Quantity::parse_as(text, dimension).map(|q| q.si)).transpose()
    };
    let span = |word: &'static str, bounds: &Bounds| {
        let ends = end(&bounds.least).and_then(|least| Ok(Span { least, most: end(&bounds.most)? }));
        ends.map_err(|why| (word, why.to_string()))
    };
    let bands = Bands {
        good: good.map_or(Ok(Span::default()), |b| span("good", b))?,
        watch: watch.map(|b| span("watch", b)).transpose()?,
        renew: renew.map(|b| span("renew", b)).transpose()?,
    };
    bands.fault().map_or(Ok(bands), |why| Err(("good", why.to_owned())))
}

/// Takes in zones and inspections.
pub(super) fn survey(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let zones = gather(files, "zones", |f| &f.zones, &mut ctx.faults);
    for (id, (file, zone)) in &zones {
        cautions(ctx, file, &format!("zones.{id}"), &zone.cautions);
        ctx.cat.zones.insert(id.clone(), Zone::clone(zone));
    }
    for (id, (file, def)) in gather(files, "stages", |f| &f.stages, &mut ctx.faults) {
        let is_meant = |stage: &Stage| stage.word().to_lowercase() == id;
        let Some(stage) = Stage::ALL.into_iter().find(is_meant) else {
            let said = format!("there is no stage \"{id}\"; expected one of sound, seen, stretched, bare");
            ctx.faults.error(file, format!("stages.{id}"), said);
            continue;
        };
        ctx.cat.stages.insert(stage, StageDef::clone(def));
    }
    let built = Built::of(files);
    for (id, (file, def)) in gather(files, "inspections", |f| &f.inspections, &mut ctx.faults) {
        let at = format!("inspections.{id}");
        if let Some(entry) = inspection(ctx, file, &at, def, &built) {
            ctx.cat.inspections.insert(id, entry);
        }
    }
}

fn inspection(
    ctx: &mut Ctx,
    file: &str,
    at: &str,
    def: &Inspection,
    built: &Built<'_>,
) -> Option<InspectionEntry> {
    for (i, class) in def.whom.iter().enumerate() {
        ctx.class(class, file, format!("{at}.for[{i}]"));
    }
    if def.whom.is_empty() {
        let said = "an inspection names the classes it is about".to_owned();
        ctx.faults.warn(file, format!("{at}.for"), said);
    }
    if !ctx.cat.zones.contains_key(&def.zone) {
        let near = nearest(&def.zone, ctx.cat.zones.keys().map(String::as_str));
        let said = format!("there is no zone \"{}\"{}", def.zone, then(near, "add it or correct the word"));
        ctx.faults.error(file, format!("{at}.zone"), said);
    }
    built.check(&def.built, file, &format!("{at}.built"), ctx);
    cautions(ctx, file, at, &def.cautions);
    match Source::parse(&def.source) {
        Err(why) if !def.source.trim().is_empty() => ctx.faults.warn(file, format!("{at}.source"), why),
        Err(_) => {
            let said = "bounds want a source, such as \"common practice\"".to_owned();
            ctx.faults.warn(file, format!("{at}.source"), said);
        }
        Ok(_) => {}
    }
    for (i, after) in def.again.iter().enumerate() {
        let is_one = Quantity::parse(after)
            .is_ok_and(|q| matches!(q.dimension, Dimension::Length | Dimension::Time) && q.si > 0.0);
        if !is_one {
            let said = format!("expected a distance or a time such as \"500 miles\", found \"{after}\"");
            ctx.faults.error(file, format!("{at}.again[{i}]"), said);
        }
    }
    if let Some(word) = def.words.keys().find(|word| word.contains(';') || word.trim().is_empty()) {
        let said = format!("\"{word}\" is no word to read: it is empty, or has a semicolon");
        ctx.faults.error(file, format!("{at}.words.{word}"), said);
    }
    let mut wrong = |path: String, said: String| {
        ctx.faults.error(file, path, said);
        None
    };
    let read = match def.kind.as_str() {
        "look" if def.words.is_empty() => {
            return wrong(
                format!("{at}.words"),
                "what is looked at has words for what can be seen".to_owned(),
            );
        }
        "look" => ReadAs::Look,
        "made" => {
            let period = |bounds: &Bounds| bounds.most.as_deref().map(Period::parse).transpose();
            let good = match period(&def.good) {
                Ok(Some(good)) => good,
                Ok(None) => {
                    return wrong(
                        format!("{at}.good"),
                        "expected how long it is good, as \"most\"".to_owned(),
                    );
                }
                Err(why) => return wrong(format!("{at}.good.most"), why.to_string()),
            };
            match def.watch.as_ref().map(period).transpose() {
                Ok(watch) => ReadAs::Made(Ages { good, watch: watch.flatten() }),
                Err(why) => return wrong(format!("{at}.watch.most"), why.to_string()),
            }
        }
        word => {
            let Some(dimension) = Dimension::from_word(word) else {
                let known: Vec<&str> =
                    Dimension::WORDS.iter().map(|(w, _)| *w).chain(["made", "look"]).collect();
                let near = nearest(word, known.iter().copied());
                let list = then(near, &format!("expected one of {}", known.join(", ")));
                return wrong(format!("{at}.kind"), format!("\"{word}\" is no kind of reading{list}"));
            };
            let of = counted_in(def, dimension);
            // with nothing but cases: where none holds, nothing is known
            let bare = def.good == Bounds::default() && !def.cases.is_empty();
            match bands([Some(&def.good), def.watch.as_ref(), def.renew.as_ref()], of) {
                Ok(bands) => ReadAs::Quantity(dimension, bands),
                Err(_) if bare => ReadAs::Quantity(dimension, Bands::default()),
                Err((word, why)) => return wrong(format!("{at}.{word}"), why),
            }
        }
    };
    let dimension = match read {
        ReadAs::Quantity(dimension, _) => dimension,
        ReadAs::Made(_) | ReadAs::Look => Dimension::Ratio,
    };
    let quantity = |text: &str, of: Dimension| Quantity::parse_as(text, of).map(|q| q.si);
    let accuracy = match def.accuracy.as_deref().map(|text| quantity(text, apart(dimension))).transpose() {
        Ok(accuracy) => accuracy.unwrap_or(0.0),
        Err(why) => return wrong(format!("{at}.accuracy"), why.to_string()),
    };
    let quick = match def.before_buying.as_ref().map(|quick| quantity(&quick.time, Dimension::Time)) {
        Some(Ok(time)) if time <= 0.0 => {
            let said = "expected a time above zero, such as \"30 s\"".to_owned();
            return wrong(format!("{at}.before_buying.time"), said);
        }
        Some(Err(why)) => return wrong(format!("{at}.before_buying.time"), why.to_string()),
        Some(Ok(time)) => Some(time),
        None => None,
    };
    let mut cases = Vec::new();
    for (i, case) in def.cases.iter().enumerate() {
        let path = format!("{at}.cases[{i}]");
        let known = match (&case.fact, &case.figure) {
            (None, None) => None,
            (Some(figure), _) | (None, Some(figure)) => {
                let Some(of) = figure_of(
                    ctx,
                    file,
                    figure,
                    format!("{path}.{}", if case.fact.is_some() { "fact" } else { "figure" }),
                ) else {
                    continue;
                };
                let end = |text: &Option<String>| text.as_deref().map(|t| quantity(t, of)).transpose();
                match end(&case.from).and_then(|least| Ok(Span { least, most: end(&case.to)? })) {
                    Ok(span) => Some(Known { figure: figure.clone(), of_part: case.fact.is_none(), span }),
                    Err(why) => {
                        ctx.faults.error(file, format!("{path}.from"), why.to_string());
                        continue;
                    }
                }
            }
        };
        if let Some(port_type) = &case.port_type
            && ctx.cat.port_type_names.get(port_type).is_none()
        {
            let said = format!("there is no port type \"{port_type}\"");
            ctx.faults.error(file, format!("{path}.port_type"), said);
            continue;
        }
        match bands([Some(&case.good), case.watch.as_ref(), case.renew.as_ref()], counted_in(def, dimension))
        {
            Ok(bands) => cases.push(CaseEntry {
                known,
                port_type: case.port_type.clone(),
                name: case.name.clone(),
                bands,
            }),
            Err((word, why)) => ctx.faults.error(file, format!("{path}.{word}"), why),
        }
    }
    if let Some(figure) = &def.having {
        figure_of(ctx, file, figure, format!("{at}.having"));
    }
    let each = def.against.as_ref().map_or(Some(1.0), |against| self_checked(ctx, file, at, against))?;
    let first = [&def.good.most, &def.good.least].into_iter().flatten().next();
    let of_case = def.cases.first().and_then(|case| case.good.most.as_ref().or(case.good.least.as_ref()));
    let by_share = def.against.as_ref().is_some_and(|against| against.by == CountedBy::Share);
    let unit = match (&read, by_share) {
        (ReadAs::Quantity(..), false) => {
            first.or(of_case).map_or_else(String::new, |text| unit_of(text).to_owned())
        }
        // bounds that are shares have no unit of what is read: its accuracy has
        (ReadAs::Quantity(..), true) => {
            def.accuracy.as_deref().map_or_else(String::new, |text| unit_of(text).to_owned())
        }
        _ => String::new(),
    };
    Some(InspectionEntry { def: def.clone(), read, accuracy, unit, cases, each, quick })
}

/// What the bounds are of: shares are plain numbers, all else is of what is read.
fn counted_in(def: &Inspection, dimension: Dimension) -> Dimension {
    match &def.against {
        Some(against) if against.by == CountedBy::Share => Dimension::Ratio,
        Some(against) if against.by == CountedBy::Difference => apart(dimension),
        _ => dimension,
    }
}

/// What the difference of two values of a dimension is: temperatures have no common zero.
fn apart(dimension: Dimension) -> Dimension {
    if dimension == Dimension::Temperature { Dimension::TemperatureDifference } else { dimension }
}

/// Whether what the bounds are counted from is there; how much `each` is.
fn self_checked(ctx: &mut Ctx, file: &str, at: &str, against: &Against) -> Option<f64> {
    let at = format!("{at}.against");
    if let Some(class) = &against.class {
        ctx.class(class, file, format!("{at}.class"))?;
    }
    let figure =
        against.fact.as_ref().map(|f| ("fact", f)).or(against.figure.as_ref().map(|f| ("figure", f)));
    let of = match figure {
        Some((word, figure)) => figure_of(ctx, file, figure, format!("{at}.{word}")),
        None => None,
    };
    if figure.is_none() && (against.port.is_none() || against.field.is_none()) {
        let said = "expected a fact, a figure of a class, or a port and its field".to_owned();
        ctx.faults.error(file, at, said);
        return None;
    }
    let Some(text) = &against.each else { return Some(1.0) };
    let of = of.unwrap_or(Dimension::Ratio);
    match Quantity::parse_as(text, of) {
        Ok(q) if q.si > 0.0 => Some(q.si),
        Ok(_) => {
            ctx.faults.error(
                file,
                format!("{at}.each"),
                format!("expected more than nothing, found \"{text}\""),
            );
            None
        }
        Err(why) => {
            ctx.faults.error(file, format!("{at}.each"), why.to_string());
            None
        }
    }
}

/// The dimension of a figure, or a fault where there is none.
fn figure_of(ctx: &mut Ctx, file: &str, figure: &str, path: String) -> Option<Dimension> {
    let kind = ctx.cat.figure_names.get(figure).and_then(|ix| ctx.cat.figures.get(ix)).map(|f| f.1);
    match kind {
        Some(crate::value::Kind::Dimension(dimension)) => Some(dimension),
        // whose own definition has a fault is told there
        Some(_) if ctx.unread.contains(&format!("figures.{figure}")) => None,
        Some(_) => {
            ctx.faults.error(file, path, format!("the figure \"{figure}\" is no quantity"));
            None
        }
        None => {
            let near = nearest(figure, ctx.cat.figure_names.ids.values().map(String::as_str));
            let said = format!("there is no figure \"{figure}\"{}", then(near, "add it or correct the word"));
            ctx.faults.error(file, path, said);
            None
        }
    }
}

fn cautions(ctx: &mut Ctx, file: &str, at: &str, list: &[String]) {
    for (i, id) in list.iter().enumerate() {
        if !ctx.cat.cautions.contains_key(id) {
            let near = nearest(id, ctx.cat.cautions.keys().map(String::as_str));
            let said = format!("there is no caution \"{id}\"{}", then(near, "add it or correct the word"));
            ctx.faults.error(file, format!("{at}.cautions[{i}]"), said);
        }
    }
}
