//! Every written quantity of a project by path: which are guesses, how far they may be off.

use fishplate_quantity::Stress;
use fishplate_quantity::trace::significant;
use fishplate_quantity::written::{Quantity, Written};

use crate::describe::{Bead, BoltEnd, Form, Place, Project, Steel, WeldNutClass};
use crate::unknown;

/// A written quantity of a project.
pub(crate) struct Known<'a> {
    /// Path of its field.
    pub(crate) path: String,
    /// What it is, in words.
    pub(crate) what: String,
    /// Value with unit.
    pub(crate) text: String,
    /// The value in SI.
    pub(crate) value: f64,
    /// The unit it is told in, with its size in SI.
    pub(crate) unit: (&'static str, f64),
    /// Whether it is a guess.
    pub(crate) guessed: bool,
    /// The value in SI, to be changed for a trial.
    pub(crate) slot: Slot<'a>,
}

/// A value that can be moved within its spread.
pub(crate) struct Slot<'a> {
    /// Lowest and highest.
    pub(crate) spread: Option<(f64, f64)>,
    set: Box<dyn FnMut(f64) + 'a>,
}

impl Slot<'_> {
    /// Puts another value in, for a trial: without a spread, as it may lie outside the one written.
    pub(crate) fn set(&mut self, si: f64) {
        (self.set)(si);
    }
}

struct Visit<'f> {
    each: &'f mut dyn FnMut(Known<'_>),
}

/// Shows every written quantity of a project, in the order of its messages.
pub(crate) fn each(project: &mut Project, each: &mut dyn FnMut(Known<'_>)) {
    Visit { each }.project(project);
}

/// Paths of all guesses; of a point its coordinates.
pub(crate) fn guessed(project: &Project) -> std::collections::BTreeSet<String> {
    let mut paths = std::collections::BTreeSet::new();
    each(&mut project.clone(), &mut |known| {
        if known.guessed {
            paths.insert(known.path);
        }
    });
    paths
}

impl Visit<'_> {
    fn quantity<Q: Quantity + Si>(
        &mut self,
        path: impl Into<String>,
        what: &str,
        w: &mut Written<Q>,
    ) {
        let unit = Q::UNITS[0];
        let value = w.value.to_si();
        let text = format!("{} {}", significant(value / unit.1, 4), unit.0);
        let spread = w.spread.map(|(low, high)| (low.to_si(), high.to_si()));
        let guessed = w.guessed;
        (self.each)(Known {
            path: path.into(),
            what: what.to_owned(),
            text,
            value,
            unit,
            guessed,
            slot: Slot {
                spread,
                set: Box::new(|si| {
                    (w.value, w.spread) = (Q::from_si_value(si), None);
                }),
            },
        });
    }

    fn number(&mut self, path: impl Into<String>, what: &str, w: &mut Written<f64>) {
        let (text, spread, guessed) = (significant(w.value, 4), w.spread, w.guessed);
        (self.each)(Known {
            path: path.into(),
            what: what.to_owned(),
            text,
            value: w.value,
            unit: ("", 1.0),
            guessed,
            slot: Slot {
                spread,
                set: Box::new(|value| {
                    (w.value, w.spread) = (value, None);
                }),
            },
        });
    }

    /// Each coordinate of a point is a number of its own, off by the spread of the point.
    fn place(&mut self, path: impl Into<String>, what: &str, place: &mut Place) {
        let path = path.into();
        let (spread, guessed) = (place.spread, place.guessed);
        for (name, coordinate) in [("x", &mut place.x), ("y", &mut place.y), ("z", &mut place.z)] {
            let Some(value) = *coordinate else { continue };
            (self.each)(Known {
                path: format!("{path}.{name}_mm"),
                what: format!("{what}, {name}"),
                text: format!("{} mm", significant(value * 1e3, 5)),
                value,
                unit: ("mm", 1e-3),
                guessed,
                slot: Slot {
                    spread: spread.map(|off| (value - off, value + off)),
                    set: Box::new(|si| *coordinate = Some(si)),
                },
            });
        }
    }

    fn project(&mut self, p: &mut Project) {
        let car = &mut p.car;
        if let Some(w) = &mut car.mass {
            self.quantity("car.mass", "mass of the car", w);
        }
        self.quantity("car.wheelbase", "wheelbase", &mut car.wheelbase);
        if let Some(w) = &mut car.cg_ahead {
            self.quantity("car.cg_ahead", "centre of gravity ahead of the rear axle", w);
        }
        if let Some(w) = &mut car.cg_height {
            self.quantity("car.cg_height", "height of the centre of gravity", w);
        }
        if let Some(w) = &mut car.front_track {
            self.quantity("car.front_track", "front track", w);
        }
        self.quantity("car.rear_track", "rear track", &mut car.rear_track);
        self.quantity("car.wheel_radius", "wheel radius", &mut car.wheel_radius);
        if let Some(s) = &mut car.corner_scales {
            self.quantity("car.corner_scales.front_left", "front left reading", &mut s.front_left);
            self.quantity(
                "car.corner_scales.front_right",
                "front right reading",
                &mut s.front_right,
            );
            self.quantity("car.corner_scales.rear_left", "rear left reading", &mut s.rear_left);
            self.quantity("car.corner_scales.rear_right", "rear right reading", &mut s.rear_right);
        }
        if let Some(s) = &mut car.axle_scales {
            self.quantity("car.axle_scales.front", "front axle reading", &mut s.front);
            self.quantity("car.axle_scales.rear", "rear axle reading", &mut s.rear);
        }
        if let Some(l) = &mut car.lifted {
            self.quantity("car.lifted.lift", "lift of the rear", &mut l.lift);
            self.quantity("car.lifted.front_gain", "gain of the front scales", &mut l.front_gain);
        }
        for (i, m) in car.added_masses.iter_mut().enumerate() {
            self.quantity(format!("car.added_masses[{i}].mass"), "added mass", &mut m.mass);
            self.place(format!("car.added_masses[{i}].at"), "place of the added mass", &mut m.at);
        }
        if let Some(d) = &mut p.drive {
            self.quantity("drive.torque", "motor torque", &mut d.torque);
            self.number("drive.ratio", "gear ratio", &mut d.ratio);
            self.number("drive.efficiency", "efficiency of the gears", &mut d.efficiency);
            self.number("drive.grip", "grip of the driven tyres", &mut d.grip);
        }
        if let Some(b) = &mut p.brakes {
            self.number("brakes.rear_share", "rear share of braking", &mut b.rear_share);
            if let Some(w) = &mut b.rear_share_backwards {
                self.number("brakes.rear_share_backwards", "rear share of braking backwards", w);
            }
            self.number("brakes.grip", "grip of the braked tyres", &mut b.grip);
        }
        if let Some(seat) = &mut p.springs.seat {
            self.place("springs.seat", "spring seat", seat);
        }
        if let Some(w) = &mut p.springs.motion_ratio {
            self.number("springs.motion_ratio", "motion ratio of the spring", w);
        }
        self.quantity("cradle.mass", "mass of the cradle", &mut p.cradle.mass);
        self.place("cradle.centre", "centre of the cradle", &mut p.cradle.centre);
        self.quantity("cradle.wheel_mass", "mass of a wheel", &mut p.cradle.wheel_mass);
        for (i, c) in p.cargo.iter_mut().enumerate() {
            let name = c.name.clone();
            let path = format!("cargo[{i}]");
            self.quantity(format!("{path}.mass"), &format!("mass of cargo {name}"), &mut c.mass);
            self.place(format!("{path}.centre"), &format!("centre of cargo {name}"), &mut c.centre);
        }
        self.hanging(p);
        self.steel(p);
        self.joints(p);
        self.cases(p);
    }

    fn hanging(&mut self, p: &mut Project) {
        for (i, b) in p.bushes.iter_mut().enumerate() {
            let name = b.name.clone();
            let path = format!("bushes[{i}]");
            self.quantity(
                format!("{path}.radial"),
                &format!("bush {name}, stiffness across"),
                &mut b.radial,
            );
            self.quantity(
                format!("{path}.axial"),
                &format!("bush {name}, stiffness along"),
                &mut b.axial,
            );
            if let Some(w) = &mut b.torsional {
                self.quantity(format!("{path}.torsional"), &format!("bush {name}, torsion"), w);
            }
            if let Some(w) = &mut b.conical {
                self.quantity(format!("{path}.conical"), &format!("bush {name}, tilting"), w);
            }
            if let Some(w) = &mut b.stop {
                self.quantity(
                    format!("{path}.stop"),
                    &format!("bush {name}, travel to its stop"),
                    w,
                );
            }
            if let Some(w) = &mut b.stop_rate {
                self.quantity(
                    format!("{path}.stop_rate"),
                    &format!("bush {name}, stiffness of its stop"),
                    w,
                );
            }
        }
        for (i, m) in p.mounts.iter_mut().enumerate() {
            let name = m.name.clone();
            self.place(format!("mounts[{i}].at"), &format!("mount {name}"), &mut m.at);
            if let Some(w) = &mut m.seat {
                self.quantity(
                    format!("mounts[{i}].seat"),
                    &format!("mount {name}, height of the bush"),
                    w,
                );
            }
            if let Some(w) = &mut m.fit_up_gap {
                self.quantity(
                    format!("mounts[{i}].fit_up_gap"),
                    &format!("mount {name}, fit-up gap"),
                    w,
                );
            }
        }
    }

    /// A steel that nobody knows: one guess, its ultimate strength moves with its yield strength.
    fn unknown(&mut self, owner: &str, steel: &mut Steel) {
        let (value, fu) = (steel.fy.value.si(), steel.fu.value.si());
        let spread = steel.fy.spread.map(|(low, high)| (low.si(), high.si()));
        let text = format!("yield {} MPa", significant(steel.fy.value.as_mpa(), 4));
        (self.each)(Known {
            path: format!("{owner}.steel"),
            what: format!("unknown steel of {owner}"),
            text,
            value,
            unit: ("MPa", 1e6),
            guessed: true,
            slot: Slot {
                spread,
                set: Box::new(|si| {
                    (steel.fy.value, steel.fy.spread) = (Stress::from_si_value(si), None);
                    steel.fu.value = Stress::from_si_value(fu * si / value);
                }),
            },
        });
    }

    fn steel(&mut self, p: &mut Project) {
        for (i, s) in p.steels.iter_mut().enumerate() {
            let name = s.name.clone();
            if let Some(owner) = unknown::owner(&name) {
                self.unknown(owner, s);
                continue;
            }
            self.quantity(format!("steels[{i}].fy"), &format!("{name}, yield"), &mut s.fy);
            self.quantity(format!("steels[{i}].fu"), &format!("{name}, ultimate"), &mut s.fu);
            if let Some(w) = &mut s.beta_w {
                self.number(format!("steels[{i}].beta_w"), &format!("{name}, weld factor"), w);
            }
        }
        for (i, r) in p.rails.iter_mut().enumerate() {
            let name = r.name.clone();
            let path = format!("rails[{i}]");
            self.quantity(
                format!("{path}.web"),
                &format!("rail {name}, place of its web"),
                &mut r.web,
            );
            self.quantity(
                format!("{path}.bottom"),
                &format!("rail {name}, place of its bottom"),
                &mut r.bottom,
            );
            self.quantity(format!("{path}.from"), &format!("rail {name}, rear end"), &mut r.from);
            self.quantity(format!("{path}.to"), &format!("rail {name}, front end"), &mut r.to);
            if let Some(w) = &mut r.pitting {
                let what = format!("rail {name}, deepest pit over mean loss");
                self.number(format!("{path}.pitting_factor"), &what, w);
            }
            if let Some(w) = &mut r.coat {
                let what = format!("rail {name}, coat under the probe");
                self.quantity(format!("{path}.coat"), &what, w);
            }
            for (side, list) in
                [("readings", &mut r.readings), ("readings_right", &mut r.readings_right)]
            {
                for (k, reading) in list.iter_mut().enumerate() {
                    let what = format!("rail {name}, wall at x {:.0} mm", reading.x * 1e3);
                    self.quantity(
                        format!("{path}.{side}[{k}].thickness"),
                        &what,
                        &mut reading.thickness,
                    );
                }
            }
        }
        for (i, part) in p.parts.iter_mut().enumerate() {
            let name = part.name.clone();
            let path = format!("parts[{i}]");
            let (thick, centre) = (format!("{name}, thickness"), format!("{name}, centre"));
            match &mut part.form {
                Form::Plate(f) => {
                    self.quantity(format!("{path}.plate.thickness"), &thick, &mut f.thickness);
                    if let Some(place) = &mut f.centre {
                        self.place(format!("{path}.plate.centre"), &centre, place);
                    }
                }
                Form::Folded(f) => {
                    self.quantity(format!("{path}.folded.thickness"), &thick, &mut f.thickness);
                    self.quantity(
                        format!("{path}.folded.reach"),
                        &format!("{name}, reach"),
                        &mut f.reach,
                    );
                    self.place(format!("{path}.folded.centre"), &centre, &mut f.centre);
                }
                Form::Gusset(f) => {
                    self.quantity(format!("{path}.gusset.thickness"), &thick, &mut f.thickness);
                }
                Form::Block(f) => {
                    self.quantity(
                        format!("{path}.block.height"),
                        &format!("{name}, height"),
                        &mut f.height,
                    );
                    self.place(format!("{path}.block.centre"), &centre, &mut f.centre);
                }
                Form::Sleeve(f) => {
                    if let Some(w) = &mut f.length {
                        let what = format!("{name}, length");
                        self.quantity(format!("{path}.sleeve.length"), &what, w);
                    }
                }
                Form::Bar(f) => {
                    self.place(format!("{path}.bar.line"), &format!("{name}, line"), &mut f.line);
                }
            }
        }
    }

    fn joints(&mut self, p: &mut Project) {
        if let Some(strength) = &mut p.weld_metal {
            self.quantity("weld_metal", "strength of the weld metal", strength);
        }
        if let Some(w) = &mut p.workmanship {
            self.number("workmanship.quality", "share of the strength of welds", &mut w.quality);
        }
        for (i, w) in p.welds.iter_mut().enumerate() {
            let name = w.name.clone();
            match &mut w.bead {
                Bead::Fillet { leg, .. } => {
                    self.quantity(format!("welds[{i}].leg"), &format!("weld {name}, leg"), leg);
                }
                Bead::Plug { diameter, fused } => {
                    let what = format!("weld {name}, plug diameter");
                    self.quantity(format!("welds[{i}].plug_diameter"), &what, diameter);
                    if let Some(w) = fused {
                        let what = format!("weld {name}, fused diameter of a plug");
                        self.quantity(format!("welds[{i}].fused"), &what, w);
                    }
                }
            }
            if let Some(w) = &mut w.workmanship {
                let what = format!("weld {name}, share of its strength");
                self.number(format!("welds[{i}].workmanship.quality"), &what, &mut w.quality);
            }
            if let Some(gap) = &mut w.gap {
                self.quantity(format!("welds[{i}].gap"), &format!("weld {name}, gap"), gap);
            }
        }
        for (i, b) in p.bolts.iter_mut().enumerate() {
            let name = b.name.clone();
            let path = format!("bolts[{i}]");
            for (k, place) in b.at.iter_mut().enumerate() {
                self.place(format!("{path}.at[{k}]"), &format!("bolt {name}, place"), place);
            }
            self.quantity(format!("{path}.hole"), &format!("bolt {name}, hole"), &mut b.hole);
            self.number(
                format!("{path}.friction"),
                &format!("bolt {name}, friction of its faces"),
                &mut b.friction,
            );
            let t = &mut b.tightening;
            self.number(
                format!("{path}.tightening.scatter"),
                &format!("bolt {name}, scatter of tightening"),
                &mut t.scatter,
            );
            self.number(
                format!("{path}.tightening.thread_friction"),
                &format!("bolt {name}, friction of its thread"),
                &mut t.thread_friction,
            );
            self.ends(&format!("{path}.ends"), &name, &mut b.ends);
        }
    }

    fn ends(&mut self, path: &str, name: &str, ends: &mut BoltEnd) {
        let (outside_is, length_is, leg_is) = (
            format!("bolt {name}, outside diameter of its nut or boss"),
            format!("bolt {name}, length of its nut or boss"),
            format!("bolt {name}, leg of the ring weld"),
        );
        match ends {
            BoltEnd::Nut | BoltEnd::ThinNut => {}
            BoltEnd::WeldNut { class, size, leg } => {
                if *class == WeldNutClass::Unknown {
                    // A class is no number: it is named, but not tried.
                    (self.each)(Known {
                        path: format!("{path}.nut_class"),
                        what: format!("bolt {name}, class of the weld nut"),
                        text: "unknown, counts as class 5".to_owned(),
                        value: 5.0,
                        unit: ("", 1.0),
                        guessed: true,
                        slot: Slot { spread: None, set: Box::new(|_| {}) },
                    });
                }
                if let Some((outside, length)) = size {
                    self.quantity(format!("{path}.outside"), &outside_is, outside);
                    self.quantity(format!("{path}.length"), &length_is, length);
                }
                if let Some(leg) = leg {
                    self.quantity(format!("{path}.leg"), &leg_is, leg);
                }
            }
            BoltEnd::Boss { outside, length, leg, fu } => {
                self.quantity(format!("{path}.outside"), &outside_is, outside);
                self.quantity(format!("{path}.length"), &length_is, length);
                self.quantity(format!("{path}.leg"), &leg_is, leg);
                if let Some(fu) = fu {
                    let what = format!("bolt {name}, tensile strength of the boss");
                    self.quantity(format!("{path}.fu"), &what, fu);
                }
            }
            BoltEnd::Tapped { engaged } => {
                let what = format!("bolt {name}, engaged length of thread");
                self.quantity(format!("{path}.length"), &what, engaged);
            }
        }
    }

    fn cases(&mut self, p: &mut Project) {
        for (i, c) in p.cases.iter_mut().enumerate() {
            let name = c.name.clone();
            let path = format!("cases[{i}]");
            for (field, value) in
                [("field", &mut c.field), ("rate", &mut c.rate), ("brake_rate", &mut c.brake_rate)]
            {
                if let Some(w) = value {
                    self.quantity(
                        format!("{path}.{field}"),
                        &format!("case {name}, {}", field.replace('_', " ")),
                        w,
                    );
                }
            }
            for (field, value) in [
                ("factor", &mut c.factor),
                ("shock", &mut c.shock),
                ("grip", &mut c.grip),
                ("rear_share", &mut c.rear_share),
            ] {
                if let Some(w) = value {
                    self.number(
                        format!("{path}.{field}"),
                        &format!("case {name}, {}", field.replace('_', " ")),
                        w,
                    );
                }
            }
        }
        let f = &mut p.factors;
        self.number("factors.normal", "factor on everyday loads", &mut f.normal);
        self.number("factors.abuse", "factor on abuse loads", &mut f.abuse);
        if let Some(restraint) = &mut f.restraint {
            self.number("factors.restraint", "factor on restraint loads", restraint);
        }
    }
}

/// Reads the SI value of a quantity.
trait Si {
    fn to_si(self) -> f64;
}

macro_rules! si {
    ($($name:ident),+ $(,)?) => {
        $(impl Si for fishplate_quantity::$name {
            fn to_si(self) -> f64 {
                self.si()
            }
        })+
    };
}
si!(Length, Mass, Moment, Stress, Stiffness, TurningStiffness, Acceleration);
