//! Fuel chain from tank to carburettor, with the pressure windows on the way.

mod drawing;

use egui::{Rect, Ui};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_figures::fuel::line::{
    DRAWN_TUBE_ROUGHNESS, FuelLine, LineLoss, PETROL_DENSITY, PETROL_VISCOSITY, head, line_loss, tube_for,
};
use knockon_figures::fuel::pressure::{PressureFit, Window, at_carburettor, fit};
use knockon_figures::fuel::regulator::{regulated, setting};
use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{DynamicViscosity, Length, MassDensity, Pressure, VolumeRate};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::velocity::meter_per_second;
use uom::si::volume_rate::cubic_meter_per_second;

use super::field::{Ask, Field, NONE, Values};
use super::say;
use super::shown::{Advice, Fact, Shown};
use super::vehicle::Vehicle;
use crate::look::tokens::Tokens;

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let port = |class, port, field| v.and_then(|v| v.port(class, port, field));
    let figure = |class, figure| v.and_then(|v| v.figure(class, figure));
    let window = Ask::Window(Dimension::Pressure);
    vec![
        Field::new("pump", "Pump gives", window, "4 to 7 psi", port("fuel-pump", "pressure", "pressure")),
        Field::new(
            "takes",
            "Carburettor takes",
            window,
            "2.5 to 3.5 psi",
            port("carburettor", "pressure", "pressure"),
        ),
        Field::new(
            "regulator",
            "Regulator, set to or range",
            Ask::Setting(Dimension::Pressure),
            NONE,
            v.and_then(|v| v.companion("fuel-regulator", "out", "pressure")),
        )
        .hint("None in this plan; write what it is set to, as 3 psi, or what it can be set to, as set 1.5 to 4 psi"),
        Field::new(
            "flow",
            "Full flow",
            Ask::Quantity(Dimension::Flow),
            "35 L/h",
            port("carburettor", "flow", "flow"),
        ),
        Field::length("bore", "Bore of the line", "6.5 mm", figure("feed-line", "line-bore")),
        Field::length("length", "Length of the line", "3 m", figure("feed-line", "line-length")),
        Field::length("lift", "Float valve over the fuel", "500 mm", v.and_then(|v| v.fact("float-height"))),
        Field::length("tank", "Of that, pump over the fuel", "0 mm", None),
    ]
}

/// A regulator at the carburettor.
struct Regulator {
    /// What it is set to.
    set: Pressure,
    /// It can be set, and this is the setting that suits; else the setting was written in.
    range: Option<Window>,
}

/// A fuel chain worked out.
pub struct Chain {
    pump: Window,
    takes: Window,
    /// Before the regulator.
    before: Window,
    /// At the float valve.
    arrives: Window,
    regulator: Option<Regulator>,
    /// A setting that suits, whatever regulator there is.
    suits: Option<Pressure>,
    /// A tube that would lose little enough, where too little arrives.
    tube: Option<&'static str>,
    loss: LineLoss,
    head: Pressure,
    fit: PressureFit,
    lift: Length,
    tank: Length,
}

/// Works the chain out.
pub fn work(v: &Values<'_>) -> Result<Chain, String> {
    let window = |id| {
        let (low, high) = v.window(id)?;
        Ok::<Window, String>(Window {
            low: Pressure::new::<pascal>(low),
            high: Pressure::new::<pascal>(high),
        })
    };
    let (pump, takes) = (window("pump")?, window("takes")?);
    let density = MassDensity::new::<kilogram_per_cubic_meter>(PETROL_DENSITY);
    let line = FuelLine {
        flow: VolumeRate::new::<cubic_meter_per_second>(v.number("flow")?),
        bore: v.length("bore")?,
        length: v.length("length")?,
        density,
        viscosity: DynamicViscosity::new::<pascal_second>(PETROL_VISCOSITY),
        roughness: Length::new::<meter>(DRAWN_TUBE_ROUGHNESS),
    };
    let tank = v.length("tank")?;
    let lift = v.length("lift")? - tank;
    let range = v.setting("regulator")?;
    let range = range
        .map(|(low, high)| Window { low: Pressure::new::<pascal>(low), high: Pressure::new::<pascal>(high) });
    let all = || -> Result<Chain, knockon_figures::FigureError> {
        let loss = line_loss(&line)?;
        let head_up = head(lift, density)?;
        // what stands against the pump on its suction side counts as well
        let suction = head(tank, density)?;
        let before = at_carburettor(pump, loss.most, head_up + suction)?;
        let fitted = fit(before, takes)?;
        let suits = setting(before, takes, takes)?;
        let regulator = match range {
            None => None,
            Some(range) if range.low < range.high => {
                // where no setting suits, the end of the range that comes nearest is drawn
                let nearest = if range.low > takes.high { range.low } else { range.high };
                Some(Regulator { set: setting(before, takes, range)?.unwrap_or(nearest), range: Some(range) })
            }
            Some(range) => Some(Regulator { set: range.low, range: None }),
        };
        let arrives = regulator.as_ref().map_or(Ok(before), |r| regulated(before, r.set))?;
        let allowed = match fitted {
            PressureFit::TooLow { short_by } | PressureFit::WantsOtherPump { short_by } => {
                Some(loss.most - short_by).filter(|p| p.get::<pascal>() >= 1.0)
            }
            _ => None,
        };
        Ok(Chain {
            pump,
            takes,
            before,
            arrives,
            regulator,
            suits,
            tube: allowed.map(|allowed| tube_for(&line, allowed)).transpose()?.flatten(),
            loss,
            head: head_up + suction,
            fit: fit(arrives, takes)?,
            lift,
            tank,
        })
    };
    all().map_err(|e| e.to_string())
}

impl Chain {
    /// What it comes to, and whether it suits.
    fn verdict(&self, m: Measure) -> (String, bool) {
        let by = |p: Pressure| say::pressure(p, m);
        let set = if self.regulator.is_some() { " behind the regulator" } else { "" };
        match self.fit {
            PressureFit::Suits => (format!("suits{}", if set.is_empty() { " as it is" } else { set }), true),
            PressureFit::WantsRegulator { .. } => {
                (format!("too high{set} by {}", by(self.arrives.high - self.takes.high)), false)
            }
            PressureFit::TooLow { short_by } => {
                (format!("too low at full flow{set} by {}", by(short_by)), false)
            }
            PressureFit::WantsOtherPump { short_by } => {
                (format!("too high at rest{set} and {} too low at full flow", by(short_by)), false)
            }
        }
    }
}

fn window_words(w: Window, m: Measure) -> String {
    let (low, high) = (say::pressure(w.low, m), say::pressure(w.high, m));
    if low == high { low } else { format!("{low} to {high}") }
}

impl Shown for Chain {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let (verdict, holds) = self.verdict(m);
        let smooth = if self.loss.least == self.loss.most {
            String::new()
        } else {
            format!(", {} if the flow stays smooth", say::pressure(self.loss.least, m))
        };
        let regulator = self.regulator.as_ref().map_or_else(
            || "none".to_owned(),
            |r| match r.range {
                Some(range) => format!("set to {}, of {}", say::pressure(r.set, m), window_words(range, m)),
                None => format!("set to {}", say::pressure(r.set, m)),
            },
        );
        vec![
            Fact::judged("fuel-pressure", "Pressure at the carburettor", verdict, holds),
            Fact::new("fuel-pressure", "Arrives", window_words(self.arrives, m)),
            Fact::new("fuel-pressure", "Regulator", regulator),
            Fact::new(
                "fuel-line",
                "Lost in the line at full flow",
                format!("{}{smooth}", say::pressure(self.loss.most, m)),
            ),
            Fact::new("fuel-pressure", "Lost to height", say::pressure(self.head, m)),
            Fact::new(
                "fuel-line",
                "Speed of the fuel",
                format!(
                    "{:.2} m/s, Reynolds number {:.0}",
                    self.loss.velocity.get::<meter_per_second>(),
                    self.loss.reynolds
                ),
            ),
        ]
    }

    fn advice(&self, m: Measure) -> Advice {
        let by = |p: Pressure| say::pressure(p, m);
        let line = self.tube.map_or_else(String::new, |tube| format!("a line of {tube} in, or "));
        match (self.fit, self.suits, &self.regulator) {
            (PressureFit::Suits, _, Some(Regulator { set, range: Some(_) })) => Advice::nothing(format!(
                "it suits with the regulator set to {}; check it with a gauge",
                by(*set)
            )),
            (PressureFit::Suits, ..) => Advice::nothing("what arrives suits the carburettor"),
            (_, Some(set), Some(Regulator { range: Some(_), .. })) => {
                Advice::to_do(format!("another regulator, one that can be set to {}", by(set)))
            }
            (_, Some(set), Some(_)) => Advice::to_do(format!("set the regulator to {}", by(set))),
            (_, Some(set), None) => {
                Advice::to_do(format!("a regulator at the carburettor, set to {}", by(set)))
            }
            (PressureFit::WantsOtherPump { short_by } | PressureFit::TooLow { short_by }, None, _) => {
                let high = self.before.high > self.takes.high && self.regulator.is_none();
                let with = if high { ", and a regulator" } else { "" };
                Advice::to_do(format!(
                    "{line}a pump that gives {} more at full flow{with}",
                    by(short_by.min(self.takes.low - self.before.low))
                ))
            }
            (PressureFit::WantsRegulator { set }, None, _) => {
                Advice::to_do(format!("a regulator at the carburettor, set to {}", by(set)))
            }
        }
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        self.drawn(ui, t, rect, m);
    }
}

#[cfg(test)]
mod tests {
    use uom::si::pressure::{kilopascal, psi};

    use super::*;

    fn chain(pump: &str, regulator: &str) -> Chain {
        let mut fields = fields(None);
        for field in &mut fields {
            for (id, text) in [("pump", pump), ("regulator", regulator)] {
                if field.id == id {
                    let found = super::super::field::Found::new(text.to_owned(), String::new());
                    *field = Field::new(field.id, "", field.ask, NONE, Some(found));
                }
            }
        }
        work(&Values(&fields)).unwrap_or_else(|why| unreachable!("{why}"))
    }

    fn advice(pump: &str, regulator: &str) -> Advice {
        chain(pump, regulator).advice(Measure::Inch)
    }

    #[test]
    fn words_follow_the_fit() {
        let verdict = |pump| chain(pump, "none").verdict(Measure::Inch);
        assert!(verdict("4 to 7 psi").0.starts_with("too high by "));
        assert_eq!(
            advice("4 to 7 psi", "none"),
            Advice::to_do("a regulator at the carburettor, set to 3 psi")
        );
        // 500 mm of petrol at 745 kg/m3 are 3.65 kPa, 0.53 psi
        assert!((chain("4 to 7 psi", "none").head.get::<kilopascal>() - 3.653).abs() < 1e-3);
        assert_eq!(verdict("3.2 to 4 psi"), ("suits as it is".to_owned(), true));
        assert!(!advice("3.2 to 4 psi", "none").due);
        assert!(verdict("2.6 to 3 psi").0.starts_with("too low"));
        assert!(advice("2.6 to 3 psi", "none").text.contains("more at full flow"));
        assert!(verdict("2.6 to 8 psi").0.starts_with("too high at rest"));
        assert!(advice("2.6 to 8 psi", "none").text.ends_with("and a regulator"));
    }

    #[test]
    fn a_regulator_takes_away_what_is_over_its_setting() {
        // common practice: a pump of 4 to 7 psi, set to 3 psi for a two-barrel of 2.5 to 3.5 psi
        let c = chain("4 to 7 psi", "3 psi");
        assert!((c.arrives.high.get::<psi>() - 3.0).abs() < 1e-9 && c.before.high.get::<psi>() > 6.0);
        assert_eq!(c.verdict(Measure::Inch), ("suits behind the regulator".to_owned(), true));
        assert!(!c.advice(Measure::Inch).due);
        // set wrongly it says so, one that can be set is set to what suits, one that cannot is another one
        assert!(!chain("4 to 7 psi", "4.5 psi").verdict(Measure::Inch).1);
        assert_eq!(advice("4 to 7 psi", "4.5 psi"), Advice::to_do("set the regulator to 3 psi"));
        assert_eq!(advice("4 to 7 psi", "1 psi"), Advice::to_do("set the regulator to 3 psi"));
        let set = chain("4 to 7 psi", "set 1.5 to 4 psi");
        assert!((set.arrives.high.get::<psi>() - 3.0).abs() < 1e-9);
        assert_eq!(
            set.advice(Measure::Inch),
            Advice::nothing("it suits with the regulator set to 3 psi; check it with a gauge")
        );
        assert_eq!(
            advice("4 to 7 psi", "set 4.5 to 9 psi"),
            Advice::to_do("another regulator, one that can be set to 3 psi")
        );
        // it does not lift what is too low
        assert!(advice("2.6 to 8 psi", "3 psi").text.contains("a pump that gives"));
    }
}
