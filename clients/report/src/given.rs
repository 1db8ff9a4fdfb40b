//! What the page is made from, with the few look-ups that every part of it needs.

use fishplate_proto::v1;

use crate::names::is_of;
use crate::numbers;
use crate::state::{State, worst};
use crate::svg::geometry::Space;
use crate::svg::solids::{corners, position};
use crate::units::Units;

/// Newtons below which a direction is not named.
const QUIET: f64 = 50.0;

/// Request and response, read only.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Given<'a> {
    pub(crate) project: Option<&'a v1::Project>,
    pub(crate) response: &'a v1::CheckProjectResponse,
    /// What numbers are printed in; texts of the response are in them already.
    pub(crate) units: Units,
    /// The case that is shown first, where another than that of the worst row.
    pub(crate) showing: Option<&'a str>,
}

/// A wheel of the axle.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wheel {
    pub(crate) centre: Space,
    pub(crate) radius: f64,
}

impl<'a> Given<'a> {
    pub(crate) fn new(
        request: &'a v1::CheckProjectRequest,
        response: &'a v1::CheckProjectResponse,
    ) -> Self {
        Self { project: request.project.as_ref(), response, units: Units::Si, showing: None }
    }

    /// The same, printed in other units.
    pub(crate) fn in_units(self, units: Units) -> Self {
        Self { units, ..self }
    }

    /// The title of the project, as answered or else as asked.
    pub(crate) fn title(&self) -> &'a str {
        let asked = self.project.map_or("", |p| p.title.as_str());
        let answered = self.response.title.as_str();
        [answered, asked].into_iter().find(|t| !t.trim().is_empty()).unwrap_or("Without a title")
    }

    /// The case that is shown first: the one asked for, else that of the worst row, else the first.
    pub(crate) fn chosen(&self) -> Option<&'a v1::CaseAnswer> {
        let cases = &self.response.cases;
        if let Some(asked) = cases.iter().find(|c| Some(c.name.as_str()) == self.showing) {
            return Some(asked);
        }
        let rows = &self.response.rows;
        let known = |row: &&v1::Row| cases.iter().any(|c| c.name == row.case_name);
        let name = worst(rows.iter().filter(known)).map(|row| row.case_name.as_str());
        cases.iter().find(|c| Some(c.name.as_str()) == name).or_else(|| cases.first())
    }

    /// Whether `case` is the one that is shown first.
    pub(crate) fn is_chosen(&self, case: &v1::CaseAnswer) -> bool {
        self.chosen().is_some_and(|c| c.name == case.name)
    }

    /// The rows of a mount, in their order.
    pub(crate) fn rows_of(&self, mount_id: &str) -> impl Iterator<Item = &'a v1::Row> {
        let mount_id = mount_id.to_owned();
        self.response.rows.iter().filter(move |row| row.mount_id == mount_id)
    }

    /// The rows by which a thing or one of its walls exceeds: at a mount where one is given,
    /// where it serves that mount or the whole.
    pub(crate) fn exceeding<'b>(
        &self,
        thing: &'b str,
        mount_id: Option<&'b str>,
    ) -> impl Iterator<Item = &'a v1::Row> + use<'a, 'b> {
        self.response.rows.iter().filter(move |row| {
            State::of(row) == State::Exceeds
                && is_of(&row.component, thing)
                && mount_id.is_none_or(|m| row.mount_id.is_empty() || row.mount_id == m)
        })
    }

    /// The force of the cradle on the body at a mount in a case, N.
    pub(crate) fn force(case: &v1::CaseAnswer, mount_id: &str) -> Option<Space> {
        let force = case.mount_forces.iter().find(|f| f.mount_id == mount_id)?;
        Some([force.force_x_n, force.force_y_n, force.force_z_n])
    }

    /// The wheels, left and right: from the scene, else from the project.
    pub(crate) fn wheels(&self) -> [Option<Wheel>; 2] {
        let scene = self.response.scene.iter().flat_map(|s| &s.wheels);
        let mut out = [None, None];
        for wheel in scene {
            if let Some(centre) = wheel.centre.as_ref().map(position) {
                let side = usize::from(centre[1] < 0.0);
                out[side] = Some(Wheel { centre, radius: wheel.radius_mm });
            }
        }
        let car = self.project.and_then(|p| p.car.as_ref());
        let track = car.and_then(|c| c.rear_track.as_ref()).map(|t| t.value_mm / 2.0);
        let radius = car.and_then(|c| c.wheel_radius.as_ref()).map(|r| r.value_mm);
        if let (Some(half), Some(radius)) = (track, radius) {
            for (slot, y) in out.iter_mut().zip([half, -half]) {
                slot.get_or_insert(Wheel { centre: [0.0, y, radius], radius });
            }
        }
        out
    }

    /// The spring seats on the body, left and right; none where the cradle carries them.
    pub(crate) fn spring_seats(&self) -> Option<[Space; 2]> {
        let springs = self.project?.springs.as_ref()?;
        if springs.seat_on() != v1::SpringSeat::Body {
            return None;
        }
        let [x, y, z] = point(springs.seat.as_ref()?)?;
        Some([[x, y, z], [x, -y, z]])
    }

    /// The centre of the cradle's mass.
    pub(crate) fn cradle_centre(&self) -> Option<Space> {
        point(self.project?.cradle.as_ref()?.centre.as_ref()?)
    }

    /// Weight and inertia of the cradle system in a case, N: what is left of the resultant
    /// without the tyres and the springs on the body.
    pub(crate) fn body_force(&self, case: &v1::CaseAnswer) -> Option<Space> {
        let resultant = case.resultant.as_ref()?;
        let mut force = [resultant.force_x_n, resultant.force_y_n, resultant.force_z_n];
        for tyre in [&case.tyre_left, &case.tyre_right].into_iter().flatten() {
            for (component, of_tyre) in force.iter_mut().zip(tyre_force(tyre)) {
                *component -= of_tyre;
            }
        }
        if self.spring_seats().is_some() {
            force[2] += case.spring_left_n + case.spring_right_n;
        }
        Some(force)
    }

    /// The solids that have something to draw.
    pub(crate) fn solids(&self) -> impl Iterator<Item = &'a v1::Solid> {
        let scene = self.response.scene.as_ref();
        scene.into_iter().flat_map(|s| &s.solids).filter(|s| corners(s).next().is_some())
    }
}

/// The force of the road on a tyre, N.
pub(crate) fn tyre_force(tyre: &v1::TyreForce) -> Space {
    [tyre.force_x_n, tyre.force_y_n, tyre.force_z_n]
}

/// A point with all three coordinates.
fn point(p: &v1::Point) -> Option<Space> {
    Some([p.x_mm?, p.y_mm?, p.z_mm?])
}

/// A force in words: only what matters; a mount on the left has its outside on the left.
pub(crate) fn in_words([x, y, z]: Space, left_side: bool, units: Units) -> String {
    let outward = if left_side { y } else { -y };
    let names = [(x, "forward", "rearward"), (outward, "outward", "inward"), (z, "up", "down")];
    let parts: Vec<String> = names
        .into_iter()
        .filter(|(value, ..)| value.abs() >= QUIET)
        .map(|(value, plus, minus)| {
            let direction = if value > 0.0 { plus } else { minus };
            format!("{direction} {}", numbers::force(value.abs(), units))
        })
        .collect();
    if parts.is_empty() {
        let least = numbers::with_unit(&numbers::force(QUIET, units), numbers::force_unit(units));
        return format!("with less than {least}");
    }
    numbers::with_unit(&parts.join(", "), numbers::force_unit(units))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn directions_are_words_of_the_side_of_the_car() {
        // The force of case P1 at the front left mount of the sample page.
        let words = in_words([-7137.0, 2403.0, -5298.0], true, Units::Si);
        assert_eq!(words, "rearward 7.14, outward 2.40, down 5.30\u{A0}kN");
        assert_eq!(in_words([0.0, 2403.0, 20.0], false, Units::Si), "inward 2.40\u{A0}kN");
        assert_eq!(in_words([0.0; 3], true, Units::Si), "with less than 0.05\u{A0}kN");
        // By hand: 2403 N over 4.448 222 is 540.2 lbf, 50 N are 11.24.
        assert_eq!(in_words([0.0, 2403.0, 20.0], false, Units::Us), "inward 540\u{A0}lbf");
        assert_eq!(in_words([0.0; 3], true, Units::Us), "with less than 11\u{A0}lbf");
    }

    #[test]
    fn weight_is_what_tyres_and_springs_leave_over() {
        // Standing van by hand: 2·5832 − 2·7473 − W = −5608, so W = 2326 N.
        let tyre = || Some(v1::TyreForce { force_z_n: 5832.0, ..v1::TyreForce::default() });
        let case = v1::CaseAnswer {
            tyre_left: tyre(),
            tyre_right: tyre(),
            spring_left_n: 7473.0,
            spring_right_n: 7473.0,
            resultant: Some(v1::Wrench { force_z_n: -5608.0, ..v1::Wrench::default() }),
            ..v1::CaseAnswer::default()
        };
        let seat = v1::Point {
            x_mm: Some(-60.0),
            y_mm: Some(530.0),
            z_mm: Some(560.0),
            ..v1::Point::default()
        };
        let springs = v1::Springs {
            seat_on: v1::SpringSeat::Body.into(),
            seat: Some(seat),
            ..v1::Springs::default()
        };
        let project = v1::Project { springs: Some(springs), ..v1::Project::default() };
        let request = v1::CheckProjectRequest {
            project: Some(project),
            ..v1::CheckProjectRequest::default()
        };
        let response = v1::CheckProjectResponse::default();
        let force = Given::new(&request, &response).body_force(&case).unwrap();
        assert!((force[2] + 2326.0).abs() < 1e-9);
    }
}
