//! Numbers that no car of this trade has. The bands are wide: they catch a wrong unit, a slipped
//! point, a sign (common practice, no source).

use fishplate_quantity::Faults;
use fishplate_quantity::trace::significant;

use crate::describe::{
    BarShape, Bead, BlockPlan, BoltEnd, Form, Outline, Place, Project, Rail, RailSection,
    SpringSeat, Tightening, Weld, WeldPath, Workmanship,
};
use crate::known;

/// Looks every number of a project over.
pub(super) fn look_over(project: &Project, faults: &mut Faults) {
    Look { faults }.all(project);
}

struct Look<'a> {
    faults: &'a mut Faults,
}

/// A band a number must lie in, in the unit it is told in.
struct Band {
    low: f64,
    high: f64,
    unit: &'static str,
    /// Size of the unit in SI.
    size: f64,
}

const WALL: Band = Band { low: 0.5, high: 50.0, unit: "mm", size: 1e-3 };
const REMAINING: Band = Band { low: 0.3, high: 25.0, unit: "mm", size: 1e-3 };
const PART: Band = Band { low: 3.0, high: 3000.0, unit: "mm", size: 1e-3 };
const HOLE: Band = Band { low: 3.0, high: 60.0, unit: "mm", size: 1e-3 };
const LEG: Band = Band { low: 0.8, high: 20.0, unit: "mm", size: 1e-3 };
const GAP: Band = Band { low: 0.0, high: 10.0, unit: "mm", size: 1e-3 };
const BOX: Band = Band { low: -6000.0, high: 6000.0, unit: "mm", size: 1e-3 };
const STRENGTH: Band = Band { low: 20.0, high: 2000.0, unit: "MPa", size: 1e6 };
const RATE: Band = Band { low: 10.0, high: 1e7, unit: "N/mm", size: 1e3 };
const SHARE: Band = Band { low: 0.0, high: 1.0, unit: "", size: 1.0 };
const GRIP: Band = Band { low: 0.05, high: 2.0, unit: "", size: 1.0 };
const FACTOR: Band = Band { low: 0.1, high: 10.0, unit: "", size: 1.0 };

impl Look<'_> {
    fn within(&mut self, path: impl Into<String>, si: f64, band: &Band) {
        let value = si / band.size;
        if !(value >= band.low && value <= band.high) {
            let unit = if band.unit.is_empty() { String::new() } else { format!(" {}", band.unit) };
            self.faults.add(
                path,
                format!("{value:.4}{unit}"),
                format!("{} to {}{unit}", band.low, band.high),
                "check the number and its unit",
            );
        }
    }

    fn place(&mut self, path: &str, place: &Place) {
        for (axis, name) in ["x_mm", "y_mm", "z_mm"].into_iter().enumerate() {
            if let Some(value) = place.along(axis) {
                self.within(format!("{path}.{name}"), value, &BOX);
            }
        }
    }

    fn full(&mut self, path: &str, place: &Place) {
        if place.given() < 3 {
            self.faults.add(
                path,
                format!("{} coordinates", place.given()),
                "three coordinates: x, y, z",
                "this point lies on no face that could give one",
            );
        }
        self.place(path, place);
    }

    fn all(&mut self, project: &Project) {
        self.counts(project);
        for (i, mount) in project.mounts.iter().enumerate() {
            let path = format!("mounts[{i}]");
            self.full(&format!("{path}.at"), &mount.at);
            if let Some(z) = mount.at.z
                && z <= 0.0
            {
                self.faults.add(
                    format!("{path}.at.z_mm"),
                    format!("{:.1} mm", z * 1e3),
                    "above the ground, z more than 0",
                    "zero of z is the ground",
                );
            }
            if !project.bushes.iter().any(|b| b.name == mount.bush) {
                self.faults.add(
                    format!("{path}.bush"),
                    format!("\"{}\"", mount.bush),
                    format!(
                        "one of the bushes: {}",
                        project
                            .bushes
                            .iter()
                            .map(|b| b.name.as_str())
                            .collect::<Vec<_>>()
                            .join(", ")
                    ),
                    "",
                );
            }
            if let Some(gap) = mount.fit_up_gap {
                self.within(format!("{path}.fit_up_gap"), gap.value.si().abs(), &GAP);
            }
        }
        for (i, bush) in project.bushes.iter().enumerate() {
            let path = format!("bushes[{i}]");
            self.within(format!("{path}.radial"), bush.radial.value.si(), &RATE);
            self.within(format!("{path}.axial"), bush.axial.value.si(), &RATE);
            if bush.stop.is_some() != bush.stop_rate.is_some() {
                self.faults.add(
                    format!("{path}.stop"),
                    "a stop without its stiffness, or the other way round",
                    "both or neither",
                    "",
                );
            }
            if let Some(rate) = bush.stop_rate {
                self.within(format!("{path}.stop_rate"), rate.value.si(), &RATE);
            }
            if let Some(stop) = bush.stop {
                let travel = Band { low: 0.1, high: 50.0, unit: "mm", size: 1e-3 };
                self.within(format!("{path}.stop"), stop.value.si(), &travel);
            }
        }
        self.steels(project);
        self.rails(project);
        for (i, part) in project.parts.iter().enumerate() {
            self.part(&format!("parts[{i}]"), &part.form);
        }
        if let Some(made) = &project.workmanship {
            self.workmanship("workmanship", made);
        }
        for (i, weld) in project.welds.iter().enumerate() {
            self.weld(&format!("welds[{i}]"), weld);
            if let Some(made) = &weld.workmanship {
                self.workmanship(&format!("welds[{i}].workmanship"), made);
            }
        }
        for (i, bolt) in project.bolts.iter().enumerate() {
            let path = format!("bolts[{i}]");
            self.within(format!("{path}.hole"), bolt.hole.value.si(), &HOLE);
            self.within(
                format!("{path}.friction"),
                bolt.friction.value,
                &Band { low: 0.02, high: 0.6, ..SHARE },
            );
            self.tightening(&format!("{path}.tightening"), &bolt.tightening);
            self.ends(&format!("{path}.ends"), &bolt.ends);
            let friction = Band { low: 0.04, high: 0.4, unit: "", size: 1.0 };
            let thread = bolt.tightening.thread_friction.value;
            self.within(format!("{path}.tightening.thread_friction"), thread, &friction);
            if let Some((outside, thickness)) = bolt.washer {
                self.within(format!("{path}.washer_thickness_mm"), thickness, &WALL);
                let washer = Band { low: 5.0, high: 150.0, unit: "mm", size: 1e-3 };
                self.within(format!("{path}.washer_outside_mm"), outside, &washer);
                if outside <= bolt.hole.value.si() {
                    self.faults.add(
                        format!("{path}.washer_outside_mm"),
                        format!("{:.1} mm", outside * 1e3),
                        format!("more than the hole, {:.1} mm", bolt.hole.value.as_mm()),
                        "it would pull through",
                    );
                }
            }
            for (k, place) in bolt.at.iter().enumerate() {
                self.place(&format!("{path}.at[{k}]"), place);
            }
        }
        self.springs(project);
        self.cases(project);
        self.spreads(project);
    }

    /// The words that say how a bolt is tightened, each with the least scatter of its preload
    /// (VDI 2230 Part 1:2003, Table A8, from memory).
    fn tightening(&mut self, path: &str, t: &Tightening) {
        const WAYS: [(&str, f64); 8] = [
            ("torque", 1.4),
            ("impact", 2.5),
            ("controlled", 1.0),
            ("1090", 1.0),
            ("angle", 1.0),
            ("yield", 1.0),
            ("snug", 1.0),
            ("hand", 1.0),
        ];
        let method = t.method.to_lowercase();
        let Some((_, least)) = WAYS.into_iter().find(|(word, _)| method.contains(word)) else {
            self.faults.add(
                format!("{path}.method"),
                format!("\"{}\"", t.method),
                "torque wrench, impact wrench, angle, yield, controlled (EN 1090-2), snug, hand",
                "the preload hangs on it",
            );
            return;
        };
        let scatter = Band { low: least, high: 4.0, unit: "", size: 1.0 };
        self.within(format!("{path}.scatter"), t.scatter.value, &scatter);
    }

    fn ends(&mut self, path: &str, ends: &BoltEnd) {
        let mut ring = |outside: f64, length: f64| {
            self.within(format!("{path}.outside"), outside, &PART);
            self.within(format!("{path}.length"), length, &PART);
        };
        let leg = match ends {
            BoltEnd::Nut | BoltEnd::ThinNut => None,
            BoltEnd::WeldNut { size, leg, .. } => {
                if let Some((outside, length)) = size {
                    ring(outside.value.si(), length.value.si());
                }
                *leg
            }
            BoltEnd::Boss { outside, length, leg, fu } => {
                ring(outside.value.si(), length.value.si());
                if let Some(fu) = fu {
                    self.within(format!("{path}.fu"), fu.value.si(), &STRENGTH);
                }
                Some(*leg)
            }
            BoltEnd::Tapped { engaged } => {
                let thread = Band { low: 1.0, high: 100.0, unit: "mm", size: 1e-3 };
                self.within(format!("{path}.length"), engaged.value.si(), &thread);
                None
            }
        };
        if let Some(leg) = leg {
            self.within(format!("{path}.leg"), leg.value.si(), &LEG);
        }
    }

    fn workmanship(&mut self, path: &str, made: &Workmanship) {
        let share = Band { low: 0.3, high: 1.0, unit: "", size: 1.0 };
        self.within(format!("{path}.quality"), made.quality.value, &share);
        for (field, words) in [("welded_by", &made.welded_by), ("inspected", &made.inspected)] {
            if words.trim().is_empty() {
                self.faults.add(
                    format!("{path}.{field}"),
                    "nothing",
                    "who welds, and who inspects and how, in words",
                    "the share of the strength rests on it",
                );
            }
        }
    }

    fn counts(&mut self, project: &Project) {
        if project.mounts.iter().all(|m| !m.carries.is_empty()) {
            self.faults.add(
                "mounts",
                "nothing",
                "at least one: where the cradle meets the car",
                "",
            );
        }
        if project.cases.is_empty() && project.case_set.is_none() {
            self.faults.add("cases", "nothing", "at least one load case, or a set of cases", "");
        }
        self.unique("mounts", project.mounts.iter().map(|m| m.name.as_str()));
        self.unique("cargo", project.cargo.iter().map(|c| c.name.as_str()));
        self.unique("bushes", project.bushes.iter().map(|b| b.name.as_str()));
        self.unique("welds", project.welds.iter().map(|w| w.name.as_str()));
        self.unique("bolts", project.bolts.iter().map(|b| b.name.as_str()));
        self.unique("cases", project.cases.iter().map(|c| c.name.as_str()));
        self.unique("steels", project.steels.iter().map(|s| s.name.as_str()));
    }

    fn unique<'a>(&mut self, field: &str, names: impl Iterator<Item = &'a str>) {
        let mut seen: Vec<&str> = Vec::new();
        for (i, name) in names.enumerate() {
            if name.trim().is_empty() || name.contains('.') {
                self.faults.add(
                    format!("{field}[{i}].name"),
                    format!("\"{name}\""),
                    "a name without dots",
                    "",
                );
            }
            if seen.contains(&name) {
                self.faults.add(
                    format!("{field}[{i}].name"),
                    format!("\"{name}\" a second time"),
                    "a name of its own",
                    "",
                );
            }
            seen.push(name);
        }
    }

    fn steels(&mut self, project: &Project) {
        for (i, steel) in project.steels.iter().enumerate() {
            let path = format!("steels[{i}]");
            self.within(format!("{path}.fy"), steel.fy.value.si(), &STRENGTH);
            self.within(format!("{path}.fu"), steel.fu.value.si(), &STRENGTH);
            if steel.fu.value.si() < steel.fy.value.si() {
                self.faults.add(
                    format!("{path}.fu"),
                    format!("{:.0} MPa", steel.fu.value.as_mpa()),
                    format!("at least fy, {:.0} MPa", steel.fy.value.as_mpa()),
                    "",
                );
            }
            if let Some(beta) = steel.beta_w {
                let band = Band { low: 0.7, high: 1.2, unit: "", size: 1.0 };
                self.within(format!("{path}.beta_w"), beta.value, &band);
            }
        }
    }

    fn rails(&mut self, project: &Project) {
        for (i, rail) in project.rails.iter().enumerate() {
            let path = format!("rails[{i}]");
            let section = match rail.section {
                RailSection::Channel { .. } => "channel",
                RailSection::Box { .. } => "box",
            };
            self.within(format!("{path}.{section}.wall_mm"), rail.section.wall(), &WALL);
            self.within(format!("{path}.{section}.height_mm"), rail.section.height(), &PART);
            let second = if section == "box" { "width_mm" } else { "flange_mm" };
            self.within(format!("{path}.{section}.{second}"), rail.section.width(), &PART);
            if rail.section.wall() * 2.5 > rail.section.width() {
                self.faults.add(
                    format!("{path}.{section}.wall_mm"),
                    format!("{:.1} mm", rail.section.wall() * 1e3),
                    "well under half of the width",
                    "",
                );
            }
            for (field, value) in [
                ("web", rail.web.value.si()),
                ("bottom", rail.bottom.value.si()),
                ("from", rail.from.value.si()),
                ("to", rail.to.value.si()),
            ] {
                self.within(format!("{path}.{field}"), value, &BOX);
            }
            for (field, list) in
                [("readings", &rail.readings), ("readings_right", &rail.readings_right)]
            {
                for (k, reading) in list.iter().enumerate() {
                    let at = format!("{path}.{field}[{k}]");
                    self.within(
                        format!("{at}.thickness"),
                        reading.thickness.value.si(),
                        &REMAINING,
                    );
                    self.along_rail(format!("{at}.x_mm"), reading.x, rail);
                }
            }
            if let Some(pitting) = rail.pitting {
                let band = Band { low: 1.0, high: 10.0, unit: "", size: 1.0 };
                self.within(format!("{path}.pitting_factor"), pitting.value, &band);
            }
            if let Some(coat) = rail.coat {
                let band = Band { low: 0.0, high: 2.0, unit: "mm", size: 1e-3 };
                self.within(format!("{path}.coat"), coat.value.si(), &band);
            }
            if let Some(corrosion) = rail.corrosion {
                let band = Band { low: 0.1, high: 50.0, unit: "years", size: 1.0 };
                self.within(format!("{path}.corrosion.years"), corrosion.years, &band);
            }
            for (k, damage) in rail.damage.iter().enumerate() {
                self.along_rail(format!("{path}.damage[{k}].x_mm"), damage.x, rail);
            }
            for (k, x) in rail.held.iter().enumerate() {
                self.along_rail(format!("{path}.held_x_mm[{k}]"), *x, rail);
            }
        }
    }

    fn along_rail(&mut self, path: String, x: f64, rail: &Rail) {
        let (from, to) = (rail.from.value.si(), rail.to.value.si());
        // A rail that ends before it begins is told where it is placed.
        if from < to && !(x >= from && x <= to) {
            self.faults.add(
                path,
                format!("x {:.1} mm", x * 1e3),
                format!("between the ends of the rail, x {:.1} to {:.1} mm", from * 1e3, to * 1e3),
                "",
            );
        }
    }

    /// No number may be so far off that it could be anything.
    fn spreads(&mut self, project: &Project) {
        // A position is measured from some zero: it may be off by this, however small it is, m.
        const POSITION: f64 = 0.1;
        known::each(&mut project.clone(), &mut |k| {
            let Some((low, high)) = k.slot.spread else { return };
            let (value, (unit, size)) = (k.value, k.unit);
            let kept = low > 0.0 && high <= 100.0 * low || high < 0.0 && low >= 100.0 * high;
            let near = unit == "mm" && high - low <= 2.0 * POSITION;
            if !(low <= value && value <= high && (kept || near)) {
                self.faults.add(
                    k.path,
                    format!(
                        "{}, {} to {} {unit}",
                        k.text,
                        significant(low / size, 4),
                        significant(high / size, 4)
                    ),
                    "a spread that keeps the sign, its ends no more than a hundredfold apart",
                    "write what was measured, and by how much it can be off",
                );
            }
        });
    }

    fn part(&mut self, path: &str, form: &Form) {
        match form {
            Form::Plate(p) => {
                self.within(format!("{path}.plate.thickness"), p.thickness.value.si(), &WALL);
                if let Some(centre) = &p.centre {
                    self.place(&format!("{path}.plate.centre"), centre);
                }
                if let Some(ends) = p.fishplate {
                    let band = Band { low: 10.0, high: 90.0, unit: "°", size: 1f64.to_radians() };
                    self.within(format!("{path}.plate.fishplate_ends_deg"), ends, &band);
                }
                if let Outline::Spear { end_angle, .. } = p.outline {
                    let band = Band { low: 10.0, high: 80.0, unit: "°", size: 1f64.to_radians() };
                    self.within(format!("{path}.plate.end_angle_deg"), end_angle, &band);
                }
            }
            Form::Folded(p) => {
                self.within(format!("{path}.folded.thickness"), p.thickness.value.si(), &WALL);
                self.within(format!("{path}.folded.reach"), p.reach.value.si(), &PART);
                self.place(&format!("{path}.folded.centre"), &p.centre);
            }
            Form::Bar(p) => {
                self.place(&format!("{path}.bar.line"), &p.line);
                self.bar(&format!("{path}.bar"), p.shape);
            }
            Form::Gusset(p) => {
                self.within(format!("{path}.gusset.thickness"), p.thickness.value.si(), &WALL);
                self.place(&format!("{path}.gusset.legs"), &p.legs);
                for (k, place) in p.at.iter().enumerate() {
                    self.place(&format!("{path}.gusset.at[{k}]"), place);
                }
            }
            Form::Sleeve(p) => {
                self.within(format!("{path}.sleeve.outside_mm"), p.outside, &PART);
                self.within(format!("{path}.sleeve.bore_mm"), p.bore, &PART);
                if let Some(proud) = p.proud {
                    let band = Band { low: -20.0, high: 2.0, unit: "mm", size: 1e-3 };
                    self.within(format!("{path}.sleeve.proud"), proud.value.si(), &band);
                }
                if let Some(length) = p.length {
                    self.within(format!("{path}.sleeve.length"), length.value.si(), &PART);
                }
                for (k, place) in p.at.iter().enumerate() {
                    self.place(&format!("{path}.sleeve.at[{k}]"), place);
                }
            }
            Form::Block(p) => {
                let (field, plan) = match p.plan {
                    BlockPlan::Round(d) => ("round_mm", d),
                    BlockPlan::Square(s) => ("square_mm", s),
                };
                self.within(format!("{path}.block.{field}"), plan, &PART);
                self.within(format!("{path}.block.height"), p.height.value.si(), &PART);
                self.place(&format!("{path}.block.centre"), &p.centre);
                if let Some(bore) = p.bore
                    && !(bore > 0.0 && bore < plan)
                {
                    self.faults.add(
                        format!("{path}.block.bore_mm"),
                        format!("{:.1} mm", bore * 1e3),
                        format!("above 0 and less than the block, {:.1} mm", plan * 1e3),
                        "",
                    );
                }
            }
        }
    }

    fn bar(&mut self, path: &str, shape: BarShape) {
        let mut thin = |field: &str, wall: f64, width: f64| {
            self.within(format!("{path}.section.{field}"), wall, &WALL);
            self.within(format!("{path}.section.{field}"), width, &PART);
            if wall * 2.0 >= width {
                self.faults.add(
                    format!("{path}.section.{field}"),
                    format!("{:.1} mm", wall * 1e3),
                    format!("less than half of {:.1} mm", width * 1e3),
                    "",
                );
            }
        };
        match shape {
            BarShape::Angle { leg_a, leg_b, thickness } => {
                thin("angle.thickness_mm", thickness, leg_a);
                thin("angle.thickness_mm", thickness, leg_b);
            }
            BarShape::Box { height, width, wall } => {
                thin("box.wall_mm", wall, height);
                thin("box.wall_mm", wall, width);
            }
            BarShape::Tube { diameter, wall } => thin("tube.wall_mm", wall, diameter),
            BarShape::Flat { height, width } => {
                self.within(format!("{path}.section.flat.height_mm"), height, &PART);
                self.within(format!("{path}.section.flat.width_mm"), width, &PART);
            }
        }
    }

    fn weld(&mut self, path: &str, weld: &Weld) {
        match weld.bead {
            Bead::Fillet { leg, .. } => {
                self.within(format!("{path}.leg"), leg.value.si(), &LEG);
                if weld.along == WeldPath::Points && weld.points.len() < 2 {
                    self.faults.add(
                        format!("{path}.points"),
                        format!("{} points", weld.points.len()),
                        "at least two",
                        "",
                    );
                }
            }
            Bead::Plug { diameter, fused: _ } => {
                let band = Band { low: 4.0, high: 40.0, unit: "mm", size: 1e-3 };
                self.within(format!("{path}.plug_diameter"), diameter.value.si(), &band);
            }
        }
        if let Some(gap) = weld.gap {
            // EN 1090-2 and shop codes stop at 5 mm of root gap: a wider one is no fillet.
            let band = Band { low: 0.0, high: 5.0, unit: "mm", size: 1e-3 };
            self.within(format!("{path}.gap"), gap.value.si(), &band);
        }
        if let Some((on, off)) = weld.stitches {
            self.within(format!("{path}.stitch_on_mm"), on, &PART);
            self.within(format!("{path}.stitch_off_mm"), off, &PART);
        }
        for (k, place) in weld.points.iter().enumerate() {
            self.place(&format!("{path}.points[{k}]"), place);
        }
    }

    fn springs(&mut self, project: &Project) {
        let springs = &project.springs;
        if springs.seat_on == SpringSeat::Body {
            match &springs.seat {
                Some(seat) => self.full("springs.seat", seat),
                None => self.faults.add(
                    "springs.seat",
                    "nothing",
                    "the upper seat of the left spring: x, y, z",
                    "with seats on the body the spring pulls the cradle down through it",
                ),
            }
            if springs.motion_ratio.is_none() {
                self.faults.add(
                    "springs.motion_ratio",
                    "nothing",
                    "spring travel for wheel travel",
                    "with seats on the body it sets the spring force",
                );
            }
        }
        self.full("cradle.centre", &project.cradle.centre);
        for (i, cargo) in project.cargo.iter().enumerate() {
            self.full(&format!("cargo[{i}].centre"), &cargo.centre);
            let mass = Band { low: 1.0, high: 5000.0, unit: "kg", size: 1.0 };
            self.within(format!("cargo[{i}].mass"), cargo.mass.value.si(), &mass);
        }
        for (i, mass) in project.car.added_masses.iter().enumerate() {
            self.full(&format!("car.added_masses[{i}].at"), &mass.at);
        }
    }

    fn cases(&mut self, project: &Project) {
        if let Some(strength) = project.weld_metal {
            self.within("weld_metal", strength.value.si(), &STRENGTH);
        }
        let f = &project.factors;
        self.within("factors.normal", f.normal.value, &Band { low: 1.0, ..FACTOR });
        self.within("factors.abuse", f.abuse.value, &Band { low: 1.0, ..FACTOR });
        if let Some(restraint) = f.restraint {
            let band = Band { low: 1.0, ..FACTOR };
            self.within("factors.restraint", restraint.value, &band);
        }
        for (i, case) in project.cases.iter().enumerate() {
            let path = format!("cases[{i}]");
            let g = Band { low: 0.01, high: 10.0, unit: "g", size: 9.81 };
            if let Some(rate) = case.rate {
                let crash = Band { low: 0.5, high: 100.0, ..g };
                let band = if case.kind.is_restraint() { &crash } else { &g };
                self.within(format!("{path}.rate"), rate.value.si(), band);
            }
            if let Some(rate) = case.brake_rate {
                self.within(format!("{path}.brake_rate"), rate.value.si(), &g);
            }
            if let Some(field) = case.field {
                self.within(format!("{path}.field"), field.value.si().abs(), &g);
            }
            if let Some(factor) = case.factor {
                self.within(format!("{path}.factor"), factor.value, &FACTOR);
            }
            if let Some(shock) = case.shock {
                self.within(format!("{path}.shock"), shock.value, &Band { low: 1.0, ..FACTOR });
            }
            if let Some(grip) = case.grip {
                self.within(format!("{path}.grip"), grip.value, &GRIP);
            }
            if let Some(share) = case.rear_share {
                self.within(format!("{path}.rear_share"), share.value, &SHARE);
            }
        }
    }
}
