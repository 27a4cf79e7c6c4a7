//! The cards of the fit-up page: name, fields and calculation of each.

use knockon_core::figure;

use super::field::{Field, Values};
use super::shown::Shown;
use super::vehicle::Vehicle;
use super::{brakes, charging, driveline, figures, fuel, gears, lift, tyre, wheel};

/// What a card's inputs come to.
pub type Outcome = Result<Box<dyn Shown>, String>;

/// A drawing, or the form of a figure.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Card {
    /// Tyre old beside new.
    #[default]
    Tyre,
    /// Wheel section over rotor and caliper.
    Wheel,
    /// Gear chart.
    Gears,
    /// Load against output, at idle and on the road.
    Charging,
    /// Shaft and joints in side view.
    Driveline,
    /// Spring, damper and shaft in side view.
    Lift,
    /// From tank to carburettor.
    Fuel,
    /// Front share against the ideal curve.
    Brakes,
    /// The form of a figure of the list, by its id.
    Figure(&'static str),
}

impl Card {
    /// The drawings, in the order shown.
    pub const ALL: [Self; 8] = [
        Self::Tyre,
        Self::Wheel,
        Self::Gears,
        Self::Charging,
        Self::Driveline,
        Self::Lift,
        Self::Fuel,
        Self::Brakes,
    ];

    /// Its word in a journal: of a figure, its id behind a colon.
    pub fn id(self) -> String {
        let word = match self {
            Self::Figure(id) => return format!(":{id}"),
            Self::Tyre => "tyre",
            Self::Wheel => "wheel",
            Self::Gears => "gears",
            Self::Charging => "charging",
            Self::Driveline => "driveline",
            Self::Lift => "lift",
            Self::Fuel => "fuel",
            Self::Brakes => "brakes",
        };
        word.to_owned()
    }

    /// The card of a word in a journal.
    pub fn of_id(id: &str) -> Option<Self> {
        match id.strip_prefix(':') {
            Some(id) => figure::find(id).map(|figure| Self::Figure(figure.id)),
            None => Self::ALL.into_iter().find(|card| card.id() == id),
        }
    }

    /// As shown.
    pub fn name(self) -> &'static str {
        match self {
            Self::Tyre => "Tyre, old and new",
            Self::Wheel => "Wheel over brake",
            Self::Gears => "Gears",
            Self::Charging => "Charging balance",
            Self::Driveline => "Driveline angles",
            Self::Lift => "Lift, side view",
            Self::Fuel => "Fuel chain",
            Self::Brakes => "Brake share",
            Self::Figure(id) => figure::find(id).map_or(id, |figure| figure.name),
        }
    }

    /// One sentence.
    pub fn about(self) -> &'static str {
        match self {
            Self::Tyre => "What another tyre does to height, gearing and speedometer",
            Self::Wheel => "The room between the inside of a wheel and the caliper, in section",
            Self::Gears => "Engine speed against road speed in each gear",
            Self::Charging => "Current wanted against current given, at idle and on the road",
            Self::Driveline => "Angles of the joints of a shaft before and after a lift",
            Self::Lift => "What a lift does to spring, damper and shaft",
            Self::Fuel => "Pressure from the pump to the float valve, at rest and at full flow",
            Self::Brakes => "Front share of the brakes against the ideal one in every stop",
            Self::Figure(id) => figure::find(id).map_or(id, |figure| figure.meaning),
        }
    }

    /// The fields as they begin; without a vehicle, the examples.
    pub fn fields(self, vehicle: Option<&Vehicle<'_>>) -> Vec<Field> {
        match self {
            Self::Tyre => tyre::fields(vehicle),
            Self::Wheel => wheel::fields(vehicle),
            Self::Gears => gears::fields(vehicle),
            Self::Charging => charging::fields(vehicle),
            Self::Driveline => driveline::fields(vehicle),
            Self::Lift => lift::fields(vehicle),
            Self::Fuel => fuel::fields(vehicle),
            Self::Brakes => brakes::fields(vehicle),
            Self::Figure(id) => figure::find(id).map_or_else(Vec::new, figures::fields),
        }
    }

    /// Works the inputs out.
    pub fn work(self, fields: &[Field]) -> Outcome {
        let values = Values(fields);
        match self {
            Self::Tyre => tyre::work(&values).map(boxed),
            Self::Wheel => wheel::work(&values).map(boxed),
            Self::Gears => gears::work(&values).map(boxed),
            Self::Charging => charging::work(&values).map(boxed),
            Self::Driveline => driveline::work(&values).map(boxed),
            Self::Lift => lift::work(&values).map(boxed),
            Self::Fuel => fuel::work(&values).map(boxed),
            Self::Brakes => brakes::work(&values).map(boxed),
            Self::Figure(id) => match figure::find(id) {
                Some(figure) => figures::work(figure, fields).map(boxed),
                None => Err(format!("there is no figure \"{id}\"")),
            },
        }
    }

    /// Whether the inputs can be worked with.
    pub fn works(self, fields: &[Field]) -> Result<(), String> {
        self.work(fields).map(drop)
    }
}

fn boxed<S: Shown + 'static>(shown: S) -> Box<dyn Shown> {
    Box::new(shown)
}

#[cfg(test)]
mod tests {
    use egui::{RawInput, Rect, Vec2};
    use knockon_core::showing::Measure;

    use super::*;
    use crate::fitup::field::{Good, settle};
    use crate::fitup::shown::sources;
    use crate::look::theme;
    use crate::look::tokens::SLATE;

    #[test]
    fn every_example_is_read_and_works() {
        for card in Card::ALL {
            let fields = card.fields(None);
            assert!(!fields.is_empty());
            for (i, field) in fields.iter().enumerate() {
                assert_ne!(field.good, Good::Missing, "{card:?}: {}", field.name);
                assert!(
                    fields[..i].iter().all(|f| f.id != field.id && f.name != field.name),
                    "{card:?}: {}",
                    field.name
                );
            }
            assert_eq!(card.works(&fields), Ok(()), "{card:?}");
        }
    }

    #[test]
    fn every_figure_has_a_form_that_works_and_is_found_again_by_its_word() {
        for figure in figure::all() {
            let card = Card::Figure(figure.id);
            let fields = card.fields(None);
            assert_eq!(fields.len(), figure.inputs.len());
            assert_eq!(card.works(&fields), Ok(()), "{card:?}");
            let Ok(shown) = card.work(&fields) else { unreachable!("{card:?}") };
            for measure in [Measure::Inch, Measure::Metric] {
                assert!(shown.facts(measure).iter().all(|f| !f.text.is_empty()), "{card:?}");
            }
            assert_eq!(Card::of_id(&card.id()), Some(card));
        }
        for card in Card::ALL {
            assert_eq!(Card::of_id(&card.id()), Some(card));
        }
        assert_eq!(Card::of_id(":no-such"), None);
    }

    #[test]
    fn every_fact_has_its_formula_from_the_list_and_every_card_says_what_to_do() {
        for card in Card::ALL {
            let Ok(shown) = card.work(&card.fields(None)) else { unreachable!("{card:?}") };
            for measure in [Measure::Inch, Measure::Metric] {
                let facts = shown.facts(measure);
                for fact in &facts {
                    assert!(figure::find(fact.figure).is_some(), "{card:?}: {}: {}", fact.name, fact.figure);
                }
                let listed = sources(&facts);
                assert!(!listed.is_empty(), "{card:?}");
                assert!(facts.iter().all(|fact| listed.iter().any(|f| f.id == fact.figure)), "{card:?}");
                let advice = shown.advice(measure);
                assert!(!advice.text.is_empty() && !advice.text.contains('\n'), "{card:?}");
                // who has nothing to look at has nothing to do
                assert!(advice.due || facts.iter().all(|f| !f.warm), "{card:?}: {}", advice.text);
            }
        }
    }

    /// Nothing, nonsense, and the ends of what each dimension may be.
    const TYPED: [&str; 54] = [
        "",
        "nonsense",
        "NaN mm",
        "-1e300 m",
        "1e999 in",
        "9999999999 mm",
        "0",
        "1",
        "0.05",
        "100",
        "-1",
        "0 mm",
        "1 mm",
        "100 mm",
        "700 mm",
        "10 m",
        "-300 mm",
        "1 deg",
        "30 deg",
        "-30 deg",
        "90 deg",
        "1 psi",
        "0.1 to 100 psi",
        "7 to 4 psi",
        "1 rpm: 0 A",
        "1 rpm: 2000 A, 2 rpm: 0 A",
        "0.05, 100",
        "0, 1",
        "1 mph",
        "600 mph",
        "1 rpm",
        "90000 rpm",
        "0.001 A",
        "9000 A",
        "1 N·m/MPa",
        "100000 N·m/MPa",
        "60 kg",
        "60000 kg",
        "5 %",
        "95 %",
        "0.2 L/h",
        "9000 L/h",
        "20 rev/mile",
        "90000 rev/mile",
        "135/40R10",
        "44x18.5R16LT",
        "none",
        "set 1.5 to 4 psi",
        "set 0.1 to 900 psi",
        "3 psi",
        "0 178; 20 176 mm",
        "-89 190; -79 176; 38 176; 32 162; 32 93; 0 85; 0 54 mm",
        "0 54; 0 85; 32 93; 32 162; 38 176; -79 176; -89 190 mm",
        "-500 900; 500 0 mm; 0 0 mm; 0 0 mm",
    ];

    #[test]
    fn whatever_is_typed_is_drawn_or_refused() {
        let ctx = egui::Context::default();
        theme::install(&ctx);
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(egui::Pos2::ZERO, Vec2::splat(900.0))),
            ..RawInput::default()
        };
        let (mut drawn, mut refused) = (0, 0);
        let mut output = ctx.run_ui(input, |ui| {
            (drawn, refused) = (0, 0);
            for card in Card::ALL {
                for at in 0..card.fields(None).len() {
                    for text in TYPED {
                        let mut fields = card.fields(None);
                        fields[at].text = text.to_owned();
                        fields[at].typed_in();
                        settle(&mut fields, at, |f| card.works(f));
                        let Ok(shown) = card.work(&fields) else {
                            unreachable!("the last good values stay: {card:?}")
                        };
                        if fields[at].trouble.is_some() {
                            refused += 1;
                            continue;
                        }
                        drawn += 1;
                        for measure in [Measure::Inch, Measure::Metric] {
                            assert!(
                                shown
                                    .facts(measure)
                                    .iter()
                                    .all(|f| !f.text.contains("NaN") && !f.text.contains("inf")),
                                "{card:?} {text}"
                            );
                            let advice = shown.advice(measure).text;
                            assert!(
                                !advice.is_empty() && !advice.contains("NaN") && !advice.contains("inf "),
                                "{card:?} {text}: {advice}"
                            );
                            let rect = Rect::from_min_size(egui::Pos2::ZERO, Vec2::new(430.0, 380.0));
                            ui.push_id(drawn, |ui| shown.draw(ui, &SLATE, rect, measure));
                        }
                    }
                }
            }
        });
        output.textures_delta.clear();
        assert!(drawn > 100 && refused > 1000, "{drawn} drawn, {refused} refused");
    }
}
