//! Random plans of the example: what nobody would choose together.

use knockon_core::Catalogue;
use knockon_core::sheet::{Choice, Plan, Route};

/// A plan with eight random parts for places of a vehicle, by seed; fewer where a place is met twice or nothing is for
/// sale for it. A vehicle that the library does not know has none.
#[must_use]
pub fn eight_chosen(seed: u64, vehicle: &str, catalogue: &Catalogue) -> Plan {
    let mut rng = fastrand::Rng::with_seed(seed);
    let mut plan = Plan::default();
    let places: Vec<_> =
        catalogue.vehicles.get(vehicle).into_iter().flat_map(|v| v.positions.values()).collect();
    for _ in 0..8 {
        let Some(place) = rng.choice(&places) else { break };
        let of_class = &catalogue.by_class[place.class];
        let for_sale: Vec<_> =
            of_class.iter().filter(|part| catalogue.parts[**part].part.price.is_some()).collect();
        if let Some(part) = rng.choice(&for_sale) {
            let part = Some(catalogue.part_names.id(**part).to_owned());
            plan.routes.insert(place.id.clone(), Choice { route: Route::Convert, part });
        }
    }
    plan
}
