//! The side drawings of the shipped library: every system of a drawn vehicle has its region and can be clicked.

use knockon_store::library::shipped;

#[test]
fn every_system_of_a_drawn_vehicle_has_its_region_and_can_be_reached() {
    let library = shipped();
    assert!(!library.drawings.is_empty());
    for (id, drawing) in &library.drawings {
        let vehicle = &library.vehicles[id];
        for position in vehicle.positions.values() {
            assert!(drawing.regions.contains_key(&position.system), "{}", position.system);
        }
        let [long, high] = drawing.size;
        for id in drawing.regions.keys() {
            let reached = (0..long as u32).step_by(20).any(|x| {
                (0..high as u32).step_by(20).any(|y| drawing.at([x as f32, y as f32]) == Some(id.as_str()))
            });
            assert!(reached, "nothing of {id} can be clicked");
        }
    }
    assert!(library.drawing("no-such-vehicle").is_none());
    let pickup = library.drawing("furrow-10");
    let at = |x: f32, y: f32| pickup.and_then(|drawing| drawing.at([x, y]));
    assert_eq!(at(860.0, 360.0), Some("brakes"));
    assert_eq!(at(860.0, 30.0), Some("wheels"));
    assert_eq!(at(3760.0, 360.0), Some("driveline"));
    assert_eq!(at(10.0, 1700.0), None);
}
