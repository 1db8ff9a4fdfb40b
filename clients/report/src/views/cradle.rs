//! The whole cradle, and every cargo, from above and from the left, to scale, with the loads of every
//! case.

use fishplate_proto::v1;

use crate::given::{Given, Wheel, tyre_force};
use crate::numbers;
use crate::svg::arrows::{Arrow, arrow, number_places};
use crate::svg::geometry::{Bounds, Point, Space, edges, larger, largest, smaller};
use crate::svg::marks::{broken_off, force_bar, length_bar, tag};
use crate::svg::painter;
use crate::svg::project::{Sheet, View};
use crate::svg::solids::{Face, bounds, faces, position};
use crate::svg::writer::{Anchor, Figure};

/// Width of a figure in drawing units.
const WIDTH: f64 = 460.0;
/// Arrows are this long for one kN where the largest then stays below `LONGEST`.
const MM_PER_KN: f64 = 16.0;
/// The longest arrow, drawing units.
const LONGEST: f64 = 105.0;

/// A mount with its place.
struct Place<'a> {
    id: &'a str,
    at: Space,
}

/// A body that mounts carry.
#[derive(Clone, Copy, PartialEq)]
enum Body<'a> {
    Cradle,
    /// By its name.
    Cargo(&'a str),
}

impl Body<'_> {
    /// Its name among what mounts carry.
    fn carried(&self) -> &str {
        match self {
            Body::Cradle => "",
            Body::Cargo(name) => name,
        }
    }
}

/// A body from above and from the left.
pub(crate) struct Drawn {
    /// What it is.
    pub(crate) name: String,
    /// From above and from the left.
    pub(crate) views: [String; 2],
}

/// What both views share.
struct Whole<'a> {
    given: Given<'a>,
    body: Body<'a>,
    mounts: Vec<Place<'a>>,
    wheels: Vec<Wheel>,
    window: Bounds<3>,
    scale: f64,
    /// Drawing units per N.
    per_newton: f64,
}

/// The view from above and the view from the left; `None` where no place is known.
pub(crate) fn draw(given: Given<'_>) -> Option<[String; 2]> {
    let whole = Whole::new(given, Body::Cradle)?;
    Some([whole.plan(), whole.side()])
}

/// The same of every cargo, in the order of the cases' forces.
pub(crate) fn cargo(given: Given<'_>) -> Vec<Drawn> {
    let forces = given.response.cases.first().map_or(&[][..], |case| &case.cargo_forces);
    let drawn = forces.iter().filter_map(|own| {
        let whole = Whole::new(given, Body::Cargo(&own.cargo))?;
        Some(Drawn { name: own.cargo.clone(), views: [whole.plan(), whole.side()] })
    });
    drawn.collect()
}

impl<'a> Whole<'a> {
    fn new(given: Given<'a>, body: Body<'a>) -> Option<Self> {
        let mounts: Vec<Place<'_>> = given
            .response
            .mounts
            .iter()
            .filter(|m| m.carries == body.carried())
            .filter_map(|m| Some(Place { id: &m.id, at: m.at.as_ref().map(position)? }))
            .filter(|place| place.at.iter().all(|c| c.is_finite()))
            .collect();
        let wheels: Vec<Wheel> = match body {
            Body::Cradle => given.wheels().into_iter().flatten().collect(),
            Body::Cargo(_) => Vec::new(),
        };
        let mut known = Bounds::of(mounts.iter().map(|m| m.at));
        for wheel in &wheels {
            let r = wheel.radius;
            known.add(wheel.centre.map(|c| c + r));
            known.add([wheel.centre[0] - r, wheel.centre[1], wheel.centre[2] - r]);
        }
        if known.is_empty() {
            return None;
        }
        // Room for the numbers beside the outer mounts, and a little rail that goes on.
        let margin = larger(0.24 * known.size(0), 120.0);
        let mut window = known;
        if let Some(centre) = centre(given, body) {
            known.add(centre);
        }
        for solid in given.solids().filter(|s| s.kind != "rail" && serves(given, body, s)) {
            let own = bounds(solid);
            window.add(own.low);
            window.add(own.high);
        }
        window.low[0] = smaller(window.low[0], known.low[0]) - margin;
        window.high[0] = larger(window.high[0], known.high[0]) + margin;
        for axis in [1, 2] {
            window.low[axis] -= 2000.0;
            window.high[axis] += 2000.0;
        }
        let scale = (WIDTH - 20.0) / window.size(0);
        let forces = given.response.cases.iter().flat_map(|case| all_forces(given, body, case));
        let most = largest(forces.map(crate::svg::geometry::length));
        let wished = MM_PER_KN * 1e-3 * scale;
        let per_newton = if most * wished > LONGEST { LONGEST / most } else { wished };
        Some(Self { given, body, mounts, wheels, window, scale, per_newton })
    }

    fn sheet(&self, view: View) -> Sheet {
        let middle = view.flat([self.window.middle()[0], 0.0, 0.0]);
        Sheet { view, scale: self.scale, shift: [WIDTH / 2.0 - self.scale * middle[0], 0.0] }
    }

    fn plan(&self) -> String {
        let sheet = self.sheet(View::PLAN);
        let mut figure = Figure::new();
        for wheel in &self.wheels {
            self.wheel_from_above(&mut figure, &sheet, wheel);
        }
        self.steel(&mut figure, &sheet, |_| true);
        self.outline(&mut figure, &sheet);
        if let Some(seats) = self.spring_seats() {
            for seat in seats {
                let at = sheet.at(seat);
                figure.circle(at, 13.0, "spr");
                figure.circle(at, 8.0, "spr");
                figure.circle(at, 2.0, "dot");
            }
            let name = sheet.at(seats[1]);
            let beside = [name[0] + 18.0, name[1] + 4.0];
            figure.text(beside, Anchor::Start, "t sm halo", "spring seat");
        }
        self.mount_marks(&mut figure, &sheet, |_| true);
        for case in &self.given.response.cases {
            figure.open_case(&case.name, self.given.is_chosen(case));
            self.plan_loads(&mut figure, &sheet, case);
            figure.close_case();
        }
        let top = figure.drawn().low[1] - 22.0;
        figure.polygon(
            &[
                [14.0, top],
                [24.0, top - 4.5],
                [24.0, top - 1.5],
                [38.0, top - 1.5],
                [38.0, top + 1.5],
                [24.0, top + 1.5],
                [24.0, top + 4.5],
            ],
            "north",
        );
        figure.text([44.0, top + 4.0], Anchor::Start, "t sm", "front");
        self.bars(&mut figure);
        figure.finish(
            WIDTH,
            "plan",
            &format!(
                "{} from above, front to the left, with the loads of the chosen case",
                self.title()
            ),
        )
    }

    fn side(&self) -> String {
        let sheet = self.sheet(View::LEFT);
        let mut figure = Figure::new();
        let ground = sheet.at([0.0, 0.0, 0.0])[1];
        figure.line([0.0, ground], [WIDTH, ground], "ground");
        figure.text([WIDTH - 4.0, ground + 15.0], Anchor::End, "t sm", "ground");
        if let Some(wheel) = self.wheels.iter().find(|w| w.centre[1] > 0.0) {
            let centre = sheet.at(wheel.centre);
            figure.circle(centre, wheel.radius * self.scale, "p-tyre");
            figure.circle(centre, 3.0, "dot");
        }
        self.outline(&mut figure, &sheet);
        self.steel(&mut figure, &sheet, |solid| {
            let own = bounds(solid);
            own.high[1] > 1.0
        });
        if let Some([seat, _]) = self.spring_seats() {
            spring(&mut figure, sheet.at(seat), 0.13 * WIDTH);
        }
        self.mount_marks(&mut figure, &sheet, |place| place.at[1] >= 0.0);
        for case in &self.given.response.cases {
            figure.open_case(&case.name, self.given.is_chosen(case));
            self.side_loads(&mut figure, &sheet, case);
            figure.close_case();
        }
        self.bars(&mut figure);
        figure.finish(
            WIDTH,
            "side",
            &format!(
                "{} from the left, front to the left, with the loads of the chosen case",
                self.title()
            ),
        )
    }

    fn wheel_from_above(&self, figure: &mut Figure, sheet: &Sheet, wheel: &Wheel) {
        let (r, centre) = (wheel.radius * self.scale, sheet.at(wheel.centre));
        // The width of the tyre is not in the project: its outline is dashed.
        let half = 0.32 * r;
        let [x, y] = centre;
        let corners = [[x - r, y - half], [x + r, y - half], [x + r, y + half], [x - r, y + half]];
        figure.polygon(&corners, "p-unit");
        figure.line([x - r * 0.9, y], [x + r * 0.9, y], "ctr");
        figure.keep_off([x - r * 0.9, y], [x + r * 0.9, y]);
        let side = if wheel.centre[1] > 0.0 { "left rear wheel" } else { "right rear wheel" };
        let below = if wheel.centre[1] > 0.0 { half + 15.0 } else { -half - 6.0 };
        figure.text([x, y + below], Anchor::Middle, "t sm", side);
    }

    /// Rails and parts, painted in order; the rails end in wavy lines where they go on.
    fn steel(&self, figure: &mut Figure, sheet: &Sheet, shown: impl Fn(&v1::Solid) -> bool) {
        let near = |s: &&v1::Solid| {
            let own = bounds(s);
            let window = &self.window;
            let in_sight = own.low[0] < window.high[0] && own.high[0] > window.low[0];
            in_sight && serves(self.given, self.body, s) && shown(s)
        };
        let chosen: Vec<&v1::Solid> = self.given.solids().filter(near).collect();
        let mut all: Vec<Face> = Vec::new();
        for (part, solid) in chosen.iter().enumerate() {
            let marked =
                solid.kind != "rail" && self.given.exceeding(&solid.name, None).next().is_some();
            all.extend(faces(solid, part, &self.window, marked));
        }
        painter::paint(figure, sheet, &painter::lay(&sheet.view, &all));
        for solid in chosen.iter().filter(|s| s.kind == "rail") {
            let own = bounds(solid);
            for (cut, end) in [
                (own.low[0] < self.window.low[0], self.window.low[0]),
                (own.high[0] > self.window.high[0], self.window.high[0]),
            ] {
                for z in [own.low[2], own.high[2]] {
                    for y in [own.low[1], own.high[1]] {
                        let ends = [self.window.low[0], self.window.high[0]];
                        figure.keep_off(sheet.at([ends[0], y, z]), sheet.at([ends[1], y, z]));
                    }
                }
                if cut {
                    let a = sheet.at([end, own.low[1], own.low[2]]);
                    let b = sheet.at([end, own.high[1], own.high[2]]);
                    broken_off(figure, a, b);
                }
            }
        }
        if let Some(rail) = chosen.iter().find(|s| s.kind == "rail") {
            let own = bounds(rail);
            let end =
                sheet.at([smaller(own.high[0], self.window.high[0]), own.high[1], own.high[2]]);
            figure.text([end[0] + 8.0, end[1] - 5.0], Anchor::Start, "t sm halo", "rail");
        }
    }

    /// The body, whose shape is not in the project: a dashed outline through its mounts, and the
    /// centre of a cargo.
    fn outline(&self, figure: &mut Figure, sheet: &Sheet) {
        let flat: Vec<Point> = self.mounts.iter().map(|m| sheet.at(m.at)).collect();
        let hull = hull(flat);
        if hull.len() < 3 {
            return;
        }
        figure.polygon(&hull, "hid-fill");
        for (a, b) in edges(&hull) {
            figure.keep_off(a, b);
        }
        let middle = Bounds::of(hull.iter().copied()).middle();
        let what = match self.body {
            Body::Cradle => "cradle, shape not given".to_owned(),
            Body::Cargo(name) => format!("{name}, shape not given"),
        };
        figure.text([middle[0], middle[1] - 22.0], Anchor::Middle, "t sm halo", &what);
        if let (Body::Cargo(_), Some(centre)) = (self.body, centre(self.given, self.body)) {
            let at = sheet.at(centre);
            figure.circle(at, 6.0, "bush");
            figure.line([at[0] - 10.0, at[1]], [at[0] + 10.0, at[1]], "ctr");
            figure.line([at[0], at[1] - 10.0], [at[0], at[1] + 10.0], "ctr");
        }
    }

    /// The body at the head of a sentence.
    fn title(&self) -> String {
        match self.body {
            Body::Cradle => "The cradle".to_owned(),
            Body::Cargo(name) => format!("Cargo {name}"),
        }
    }

    fn spring_seats(&self) -> Option<[Space; 2]> {
        self.given.spring_seats().filter(|_| self.body == Body::Cradle)
    }

    /// Where weight and inertia act, and how hard in a case, N.
    fn own_force(&self, case: &v1::CaseAnswer) -> Option<(Space, Space)> {
        Some((centre(self.given, self.body)?, own_force(self.given, self.body, case)?))
    }

    fn mount_marks(&self, figure: &mut Figure, sheet: &Sheet, shown: impl Fn(&Place<'_>) -> bool) {
        let middle = sheet.at(self.window.middle())[0];
        for place in self.mounts.iter().filter(|p| shown(p)) {
            let at = sheet.at(place.at);
            figure.circle(at, 9.0, "bush");
            figure.circle(at, 3.4, "dot");
            let inward = if at[0] < middle { 32.0 } else { -32.0 };
            let beside = match sheet.view == View::PLAN {
                true => [at[0] + inward, at[1] + if place.at[1] > 0.0 { -17.0 } else { 17.0 }],
                false => [at[0] - inward * 0.2, at[1] + 26.0],
            };
            tag(figure, beside, place.id);
        }
    }

    fn plan_loads(&self, figure: &mut Figure, sheet: &Sheet, case: &v1::CaseAnswer) {
        for (wheel, force) in self.tyres(case) {
            let at = sheet.at(wheel.centre);
            let v = sheet.vector([force[0], force[1], 0.0], self.per_newton);
            self.incoming(figure, at, v, force[0].hypot(force[1]));
        }
        if let Some((centre, force)) = self.own_force(case) {
            let v = sheet.vector([force[0], force[1], 0.0], self.per_newton);
            self.incoming(figure, sheet.at(centre), v, force[0].hypot(force[1]));
        }
        let middle = sheet.at(self.window.middle())[0];
        for place in &self.mounts {
            let Some(force) = Given::force(case, place.id) else {
                continue;
            };
            let at = sheet.at(place.at);
            let v = sheet.vector([force[0], force[1], 0.0], self.per_newton);
            arrow(figure, at, v, Arrow::Out);
            // Outside the cradle, unless the arrow goes there.
            let outside = if at[0] < middle { -1.0 } else { 1.0 };
            let taken = v[0] * outside > 12.0;
            let (x, anchor) = match (outside < 0.0) != taken {
                true => (at[0] - 16.0, Anchor::End),
                false => (at[0] + 16.0, Anchor::Start),
            };
            let below = if place.at[1] > 0.0 { 18.0 } else { -20.0 };
            let y = at[1] + if taken { below * 1.6 } else { 6.0 };
            let in_plane = numbers::force(force[0].hypot(force[1]), self.given.units);
            let vertical = match force[2] {
                z if z.abs() < 5.0 => String::new(),
                z if z > 0.0 => format!("up {}", numbers::force(z, self.given.units)),
                z => format!("down {}", numbers::force(-z, self.given.units)),
            };
            // Both lines stand together, so the longer one looks for room.
            let longer = if vertical.len() > in_plane.len() { &vertical } else { &in_plane };
            let outer = below.signum();
            let places: Vec<(Point, Anchor)> = [0.0, 1.0, 2.0, 3.0]
                .into_iter()
                .flat_map(|step| {
                    let (y, far) = (y + outer * 12.0 * step, 2.0 * at[0] - x);
                    let across = if anchor == Anchor::End { Anchor::Start } else { Anchor::End };
                    [([x, y + 15.0], anchor), ([far, y + 15.0], across)]
                })
                .collect();
            let Some(([x, y], anchor)) = figure.freest(&places, longer) else {
                continue;
            };
            figure.text([x, y - 15.0], anchor, "t num halo", &in_plane);
            if !vertical.is_empty() {
                figure.text([x, y], anchor, "t num2 halo", &vertical);
            }
        }
    }

    fn side_loads(&self, figure: &mut Figure, sheet: &Sheet, case: &v1::CaseAnswer) {
        if let Some((wheel, force)) = self.tyres(case).find(|(w, _)| w.centre[1] > 0.0) {
            let at = sheet.at([wheel.centre[0], wheel.centre[1], wheel.centre[2] - wheel.radius]);
            let v = sheet.vector([force[0], 0.0, force[2]], self.per_newton);
            self.incoming(figure, at, v, force[0].hypot(force[2]));
        }
        if let Some([seat, _]) = self.spring_seats() {
            let v = sheet.vector([0.0, 0.0, -case.spring_left_n], self.per_newton);
            self.incoming(figure, sheet.at(seat), v, case.spring_left_n.abs());
        }
        if let Some((centre, force)) = self.own_force(case) {
            let v = sheet.vector([force[0], 0.0, force[2]], self.per_newton);
            self.incoming(figure, sheet.at(centre), v, force[0].hypot(force[2]));
        }
        for place in self.mounts.iter().filter(|p| p.at[1] >= 0.0) {
            let Some(force) = Given::force(case, place.id) else {
                continue;
            };
            let at = sheet.at(place.at);
            let v = sheet.vector([force[0], 0.0, force[2]], self.per_newton);
            let tip = arrow(figure, at, v, Arrow::Out).unwrap_or([at[0], at[1] - 12.0]);
            number(figure, at, tip, &numbers::force(force[0].hypot(force[2]), self.given.units));
        }
    }

    fn incoming(&self, figure: &mut Figure, at: Point, v: Point, newtons: f64) {
        if let Some(free) = arrow(figure, at, v, Arrow::In) {
            number(figure, at, free, &numbers::force(newtons, self.given.units));
        }
    }

    fn tyres(&self, case: &v1::CaseAnswer) -> impl Iterator<Item = (&Wheel, Space)> {
        let forces = [&case.tyre_left, &case.tyre_right].map(|t| t.as_ref().map(tyre_force));
        self.wheels.iter().filter_map(move |wheel| {
            let force = forces[usize::from(wheel.centre[1] < 0.0)]?;
            Some((wheel, force))
        })
    }

    fn bars(&self, figure: &mut Figure) {
        let y = figure.drawn().high[1] + 24.0;
        length_bar(figure, [14.0, y], (150.0, self.scale), self.given.units);
        force_bar(figure, [280.0, y], self.per_newton, self.given.units);
    }
}

/// The number of an arrow beyond its free end.
fn number(figure: &mut Figure, root: Point, free: Point, text: &str) {
    if let Some((at, anchor)) = figure.freest(&number_places(root, free), text) {
        figure.text(at, anchor, "t num halo", text);
    }
}

/// The centre of a body's mass.
fn centre(given: Given<'_>, body: Body<'_>) -> Option<Space> {
    let Body::Cargo(name) = body else { return given.cradle_centre() };
    let mut forces = given.response.cases.iter().flat_map(|case| &case.cargo_forces);
    forces.find(|own| own.cargo == name)?.at.as_ref().map(position)
}

/// Weight and inertia of a body in a case, N.
fn own_force(given: Given<'_>, body: Body<'_>, case: &v1::CaseAnswer) -> Option<Space> {
    let Body::Cargo(name) = body else { return given.body_force(case) };
    let own = case.cargo_forces.iter().find(|own| own.cargo == name)?;
    Some([own.force_x_n, own.force_y_n, own.force_z_n])
}

/// Whether a solid belongs to a body's mounts, or to no mount in particular.
fn serves(given: Given<'_>, body: Body<'_>, solid: &v1::Solid) -> bool {
    let served = given.response.mounts.iter().find(|m| m.id == solid.mount_id);
    served.is_none_or(|m| m.carries == body.carried())
}

/// Every force of a case that is drawn, N.
fn all_forces(given: Given<'_>, body: Body<'_>, case: &v1::CaseAnswer) -> Vec<Space> {
    let own = given.response.mounts.iter().filter(|m| m.carries == body.carried());
    let mut out: Vec<Space> = own.filter_map(|m| Given::force(case, &m.id)).collect();
    if body == Body::Cradle {
        out.extend([&case.tyre_left, &case.tyre_right].into_iter().flatten().map(tyre_force));
        out.push([0.0, 0.0, case.spring_left_n]);
    } else {
        out.extend(own_force(given, body, case));
    }
    out
}

/// A spring hanging from its seat.
fn spring(figure: &mut Figure, seat: Point, height: f64) {
    let [x, y] = seat;
    let mut coil = vec![[x, y]];
    for k in 0..8u32 {
        let side = if k % 2 == 0 { 8.0 } else { -8.0 };
        coil.push([x + side, y + height * (f64::from(k) + 0.5) / 8.0]);
    }
    coil.push([x, y + height]);
    figure.polyline(&coil, "sprl");
    figure.line([x - 15.0, y], [x + 15.0, y], "web");
}

/// The convex outline around some points.
fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    points.dedup();
    let turn = |o: Point, a: Point, b: Point| {
        (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])
    };
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for p in points {
            while chain.len() >= 2 && turn(chain[chain.len() - 2], chain[chain.len() - 1], p) <= 0.0
            {
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut out = half(&mut points.iter().copied());
    out.extend(half(&mut points.iter().rev().copied()));
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The cradle and a box: each is drawn on its own mounts, with its own loads.
    #[test]
    fn a_cargo_is_drawn_beside_the_cradle_and_not_in_it() {
        let request = crate::test_support::van::request();
        let mut response = crate::test_support::van::response();
        let alone = draw(Given::new(&request, &response)).unwrap();
        assert!(cargo(Given::new(&request, &response)).is_empty());
        let place = |x_mm, y_mm, z_mm| Some(v1::Position { x_mm, y_mm, z_mm });
        for (id, x, y) in [("BFL", 2720.0, 330.0), ("BFR", 2720.0, -330.0), ("BRL", 2280.0, 360.0)]
        {
            response.mounts.push(v1::MountAnswer {
                id: id.to_owned(),
                at: place(x, y, 330.0),
                carries: "battery".to_owned(),
                ..v1::MountAnswer::default()
            });
            for case in &mut response.cases {
                case.mount_forces.push(v1::MountForce {
                    mount_id: id.to_owned(),
                    force_x_n: 7777.0,
                    ..v1::MountForce::default()
                });
            }
        }
        for case in &mut response.cases {
            case.cargo_forces.push(v1::CargoForce {
                cargo: "battery".to_owned(),
                at: place(2500.0, 10.0, 470.0),
                force_x_n: 23_331.0,
                ..v1::CargoForce::default()
            });
        }
        let given = Given::new(&request, &response);
        let drawn = cargo(given);
        assert_eq!((drawn.len(), drawn[0].name.as_str()), (1, "battery"));
        for view in &drawn[0].views {
            assert!(view.contains(">BFL<") && !view.contains(">FL<"), "{view}");
            assert!(view.contains("7.78") && view.contains("23.3"), "{view}");
        }
        assert!(drawn[0].views[0].contains("battery, shape not given"));
        // That of the cradle stays as it was, to the letter.
        assert_eq!(draw(given).unwrap(), alone);
    }

    #[test]
    fn the_outline_goes_around_and_not_through() {
        let square = vec![[0.0, 0.0], [4.0, 0.0], [2.0, 2.0], [4.0, 4.0], [0.0, 4.0]];
        assert_eq!(hull(square), [[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]]);
        assert!(hull(Vec::new()).is_empty());
    }
}
