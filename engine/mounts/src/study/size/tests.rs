//! The reach of rows tried on every piece of several designs; a sizing against every design run on
//! its own.

use std::collections::{BTreeMap, BTreeSet};

use fishplate_quantity::Length;
use fishplate_quantity::written::{Quantity, Written, parse};

use super::reach::Reach;
use super::{Asked, Objective, Sizing, size};
use crate::RunToEnd;
use crate::answer::{Row, State};
use crate::checks::Scope;
use crate::describe::{Bead, Bolt, Form, Outline, Part, Project, Weld};
use crate::pipeline::{self, Depth};
use crate::plate::tests::support::{bare_front, bolted_front, rear, stiff_front};
use crate::study::bill::{Bill, Rates};
use crate::study::screen::{Prepared, Until};
use crate::study::space::{Element, Quantity as Open, Slot, Space, Version};

fn w<Q: Quantity>(text: &str) -> Written<Q> {
    parse(text).expect("a quantity of a test")
}

/// Rows by what they are about; bits of everything that counts.
type Bits = BTreeMap<String, (Option<BTreeSet<Slot>>, String)>;

fn bits(project: &Project) -> (Bits, Vec<String>) {
    let found = pipeline::find(project, false, Depth::Frame, &RunToEnd).expect("a design");
    let rows =
        pipeline::run(project, &found, &Scope::everything(), false, &RunToEnd).expect("rows");
    let reach = Reach { design: &found.design, path: &found.path };
    let mut bits = Bits::new();
    for row in &rows {
        let mut key =
            format!("{:?} {} {:?} {}", row.mount, row.component, row.interface, row.clause.place);
        while bits.contains_key(&key) {
            key.push('\'');
        }
        bits.insert(key, (reach.row(row), state(row)));
    }
    let clashes = found.design.clashes.iter().map(|c| c.between.join(" / ")).collect();
    (bits, clashes)
}

fn state(row: &Row) -> String {
    let by_case: Vec<u64> = row.by_case.iter().map(|u| u.to_bits()).collect();
    match &row.state {
        State::Checked(g) => {
            format!("{} {by_case:?} {}", g.utilisation.to_bits(), row.outside.is_some())
        }
        State::NotChecked(_) => "not checked".to_owned(),
    }
}

/// A change of one piece.
type Change = (Slot, Box<dyn Fn(&mut Project)>);

/// Every thickness, leg, size and position of a project, changed a little.
fn changes(project: &Project) -> Vec<Change> {
    let mut list: Vec<Change> = Vec::new();
    for i in 0..project.parts.len() {
        let mut push = |change: fn(&mut Form)| {
            let mut trial = project.parts[i].form.clone();
            change(&mut trial);
            if trial != project.parts[i].form {
                list.push((
                    Slot::Part(i),
                    Box::new(move |p: &mut Project| change(&mut p.parts[i].form)),
                ));
            }
        };
        for grow in [thicker as fn(&mut Form), wider, longer, aside] {
            push(grow);
        }
    }
    for i in 0..project.welds.len() {
        list.push((Slot::Weld(i), Box::new(move |p| heavier(&mut p.welds[i]))));
        if project.welds[i].stitches.is_some() {
            list.push((Slot::Weld(i), Box::new(move |p| p.welds[i].stitches = Some((0.05, 0.03)))));
        }
    }
    for i in 0..project.bolts.len() {
        list.push((
            Slot::Bolt(i),
            Box::new(move |p| {
                p.bolts[i].hole = p.bolts[i].hole.map(|h| Length::from_si(h.si() * 1.04))
            }),
        ));
        list.push((Slot::Bolt(i), Box::new(move |p| p.bolts[i].class = "8.8".to_owned())));
        list.push((Slot::Bolt(i), Box::new(move |p| smaller_bolt(&mut p.bolts[i]))));
    }
    list
}

fn thicker(form: &mut Form) {
    match form {
        Form::Plate(p) => p.thickness = p.thickness.map(|t| Length::from_si(t.si() * 1.1)),
        Form::Folded(u) => u.thickness = u.thickness.map(|t| Length::from_si(t.si() * 1.1)),
        Form::Gusset(g) => g.thickness = g.thickness.map(|t| Length::from_si(t.si() * 1.1)),
        Form::Sleeve(s) => s.outside *= 1.05,
        Form::Bar(bar) => {
            if let crate::describe::BarShape::Angle { thickness, .. } = &mut bar.shape {
                *thickness *= 1.1;
            }
        }
        _ => {}
    }
}

fn wider(form: &mut Form) {
    match form {
        Form::Plate(p) => match &mut p.outline {
            Outline::Rectangle(size) | Outline::Spear { size, .. } => {
                size.x = size.x.map(|x| x * 1.02);
            }
            _ => {}
        },
        Form::Folded(u) => u.foot.x = u.foot.x.map(|x| x * 0.97),
        Form::Gusset(g) => g.legs.z = g.legs.z.map(|z| z * 0.95),
        _ => {}
    }
}

fn longer(form: &mut Form) {
    match form {
        Form::Plate(p) => {
            if let Outline::Mouth { to, .. } = &mut p.outline {
                *to = to.map(|x| Length::from_si(x.si() * 1.02));
            }
        }
        Form::Folded(u) => u.reach = u.reach.map(|r| Length::from_si(r.si() * 1.02)),
        Form::Gusset(g) => g.legs.y = g.legs.y.map(|y| y * 0.95),
        _ => {}
    }
}

fn aside(form: &mut Form) {
    match form {
        Form::Plate(p) => {
            if let Some(centre) = &mut p.centre {
                centre.x = centre.x.map(|x| x + 1e-3);
            }
        }
        Form::Folded(u) => u.centre.x = u.centre.x.map(|x| x + 1e-3),
        Form::Gusset(g) => {
            for at in &mut g.at {
                at.x = at.x.map(|x| x * 1.02);
            }
        }
        _ => {}
    }
}

fn heavier(weld: &mut Weld) {
    weld.bead = match weld.bead {
        Bead::Fillet { leg, both_sides } => {
            Bead::Fillet { leg: leg.map(|l| Length::from_si(l.si() * 1.2)), both_sides }
        }
        Bead::Plug { diameter, fused } => {
            Bead::Plug { diameter: diameter.map(|d| Length::from_si(d.si() * 1.1)), fused }
        }
    };
}

fn smaller_bolt(bolt: &mut Bolt) {
    bolt.thread = "M10".to_owned();
    bolt.hole = w("11 mm");
    bolt.washer = Some((20e-3, 2e-3));
}

/// What changed must be in the reach of every row that changed.
fn assert_reached(
    what: &str,
    (before, clashes): &(Bits, Vec<String>),
    after: &Project,
    changed: &[Slot],
) {
    if pipeline::settled(after).is_err() {
        return;
    }
    let (after, now) = bits(after);
    if now != *clashes {
        // Where things get in each other's way nothing is told of rows.
        return;
    }
    for (key, (reach, state)) in before.iter().chain(&after) {
        let same = |bits: &Bits| bits.get(key).is_some_and(|(_, other)| other == state);
        if same(before) && same(&after) {
            continue;
        }
        let reached =
            reach.as_ref().is_none_or(|all| changed.iter().any(|slot| all.contains(slot)));
        assert!(reached, "{what}: {key} changed, but its reach is {reach:?} without {changed:?}");
    }
}

fn designs() -> Vec<(&'static str, Project)> {
    vec![
        ("bare front", bare_front()),
        ("bolted front", bolted_front()),
        ("stiff front and rear", rear(stiff_front())),
    ]
}

#[test]
fn what_changes_a_row_is_in_its_reach() {
    for (name, project) in designs() {
        let before = bits(&project);
        for (slot, change) in changes(&project) {
            let mut after = project.clone();
            change(&mut after);
            assert_reached(name, &before, &after, &[slot]);
        }
    }
}

#[test]
fn what_changes_a_row_is_in_its_reach_in_pairs_too() {
    for (name, project) in designs() {
        let before = bits(&project);
        let all = changes(&project);
        // A walk over pairs that comes by every change (Lehmer's generator, 16807 modulo 2^31 - 1).
        let mut seed: u64 = 20_011;
        let mut next = |of: usize| {
            seed = seed * 16_807 % 2_147_483_647;
            usize::try_from(seed).unwrap_or(0) % of
        };
        for (slot, change) in &all {
            let (other, more) = &all[next(all.len())];
            let mut after = project.clone();
            change(&mut after);
            more(&mut after);
            assert_reached(name, &before, &after, &[*slot, *other]);
        }
    }
}

fn open(name: &str, options: &[&str]) -> Open {
    Open { name: name.to_owned(), options: options.iter().map(|o| (*o).to_owned()).collect() }
}

fn index(list: impl Iterator<Item = String>, name: &str) -> usize {
    list.into_iter().position(|n| n == name).expect("a thing of that name")
}

/// A quantity that changes one part.
fn of_part(
    base: &Project,
    name: &str,
    options: &[&str],
    set: impl Fn(&mut Part, &str),
) -> (Open, Element) {
    let at = index(base.parts.iter().map(|p| p.name.clone()), name);
    let versions = options.iter().map(|option| {
        let mut part = base.parts[at].clone();
        set(&mut part, option);
        Version::Part(Box::new(part))
    });
    let versions = versions.collect();
    (open(name, options), Element { slot: Slot::Part(at), by: Vec::new(), versions })
}

fn of_weld(base: &Project, name: &str, legs: &[&str]) -> (Open, Element) {
    let at = index(base.welds.iter().map(|p| p.name.clone()), name);
    let versions = legs.iter().map(|leg| {
        let mut weld = base.welds[at].clone();
        if let Bead::Fillet { leg: own, .. } = &mut weld.bead {
            *own = w(leg);
        }
        Version::Weld(Box::new(weld))
    });
    let versions = versions.collect();
    (open(name, legs), Element { slot: Slot::Weld(at), by: Vec::new(), versions })
}

fn of_bolt(base: &Project, name: &str, sizes: &[&str]) -> (Open, Element) {
    let at = index(base.bolts.iter().map(|p| p.name.clone()), name);
    let versions = sizes.iter().map(|size| {
        let mut bolt = base.bolts[at].clone();
        let (thread, class) = size.split_once(' ').expect("thread and class");
        (bolt.thread, bolt.class) = (thread.to_owned(), class.to_owned());
        let (hole, washer) = match thread {
            "M8" => ("9 mm", (16e-3, 1.6e-3)),
            "M10" => ("11 mm", (20e-3, 2e-3)),
            "M12" => ("13 mm", (24e-3, 2.5e-3)),
            _ => ("15 mm", (28e-3, 4e-3)),
        };
        (bolt.hole, bolt.washer) = (w(hole), Some(washer));
        Version::Bolt(Box::new(bolt))
    });
    let versions = versions.collect();
    (open(name, sizes), Element { slot: Slot::Bolt(at), by: Vec::new(), versions })
}

fn thickness(part: &mut Part, text: &str) {
    match &mut part.form {
        Form::Plate(p) => p.thickness = w(text),
        Form::Folded(u) => u.thickness = w(text),
        Form::Gusset(g) => g.thickness = w(text),
        _ => {}
    }
}

fn space(base: Project, list: Vec<(Open, Element)>) -> Space {
    let (quantities, elements): (Vec<Open>, Vec<Element>) = list
        .into_iter()
        .enumerate()
        .map(|(at, (open, element))| (open, Element { by: vec![at], ..element }))
        .unzip();
    Space::new(base, quantities, elements)
}

fn asked(by: Objective, top: usize) -> Asked {
    Asked {
        by: vec![by],
        front: [Objective::SteelMass, Objective::Utilisation],
        rates: Rates::default(),
        top,
        depth: Depth::Frame,
        confirm: 1,
        threads: 2,
    }
}

/// The front of the van: sheet of bracket, doubler and gussets, legs of three welds, the bush bolt.
fn front(sheets: &[&str], legs: &[&str], bolts: &[&str]) -> Space {
    let base = rear(stiff_front());
    let list = vec![
        of_part(&base, "front-bracket", sheets, thickness),
        of_part(&base, "front-doubler", sheets, thickness),
        of_part(&base, "front-gusset", sheets, thickness),
        of_weld(&base, "front-foot", legs),
        of_weld(&base, "front-gusset-foot", legs),
        of_weld(&base, "front-doubler", legs),
        of_bolt(&base, "front-bush", bolts),
    ];
    space(base, list)
}

/// Every design on its own, without tables: those of which no row exceeds and nothing is in the way,
/// with their mass by their own bill.
fn one_by_one(space: &Space) -> BTreeMap<Vec<usize>, f64> {
    let prepared = Prepared::of(space.base()).expect("a base");
    let scope = Scope::everything();
    let base = pipeline::settled(space.base()).expect("a base").0;
    let judge = |number: u128| {
        let choice = space.choice(number);
        let project = space.design(&choice);
        let (design, _) = pipeline::settled(&project).ok()?;
        if design.clashes.len() > base.clashes.len() {
            return None;
        }
        let quick =
            prepared.verdict(&project, &scope, Until::ARowExceeds, &RunToEnd).expect("a verdict");
        quick.holds().then(|| (choice, Bill::of(&project, &design).mass()))
    };
    let half = space.designs() / 2;
    let mut held = BTreeMap::new();
    std::thread::scope(|threads| {
        let first = threads.spawn(|| (0..half).filter_map(judge).collect::<Vec<_>>());
        held.extend((half..space.designs()).filter_map(judge));
        held.extend(first.join().expect("the first half"));
    });
    held
}

#[test]
fn a_sizing_finds_what_every_design_on_its_own_finds() {
    let space = front(&["5 mm", "2 mm"], &["4 mm", "1 mm"], &["M14 10.9", "M8 8.8"]);
    let sizing =
        size(&space, &asked(Objective::SteelMass, usize::MAX), &RunToEnd).expect("an answer");
    let held = one_by_one(&space);
    same(&sizing, &held);
    // No row depends on everything: most designs are never run.
    assert!(sizing.tally.run < 64, "{:?}", sizing.tally);
}

/// The front mount in a hard bump: bracket, doubler, gussets, three welds, bolt.
fn front_at_large() -> Space {
    let mut base = stiff_front();
    base.cases.truncate(1);
    base.cases[0].field = Some(w("8 g"));
    let sheets = ["2 mm", "2.5 mm", "3 mm", "4 mm", "5 mm", "6 mm"];
    let legs = ["1.5 mm", "2 mm", "2.5 mm", "3 mm", "4 mm"];
    let bolts =
        ["M8 8.8", "M8 10.9", "M10 8.8", "M10 10.9", "M12 8.8", "M12 10.9", "M14 8.8", "M14 10.9"];
    let list = vec![
        of_part(&base, "front-bracket", &sheets, thickness),
        of_part(&base, "front-doubler", &sheets, thickness),
        of_part(&base, "front-gusset", &sheets[..5], thickness),
        of_weld(&base, "front-foot", &legs),
        of_weld(&base, "front-gusset-foot", &legs[1..4]),
        of_weld(&base, "front-doubler", &legs),
        of_bolt(&base, "front-bush", &bolts),
    ];
    space(base, list)
}

/// Brute force: every one of the combinations is checked plainly, without tables or bounds, up to its
/// first row that exceeds.
#[test]
fn a_front_mount_among_a_hundred_thousand_is_that_of_brute_force() {
    let space = front_at_large();
    assert!(space.designs() >= 100_000, "{}", space.designs());
    let sizing =
        size(&space, &asked(Objective::SteelMass, usize::MAX), &RunToEnd).expect("an answer");
    let held = one_by_one(&space);
    same(&sizing, &held);
    assert!(!held.is_empty() && (held.len() as u128) < space.designs());
}

fn same(sizing: &Sizing, held: &BTreeMap<Vec<usize>, f64>) {
    let found: BTreeSet<&Vec<usize>> = sizing.found.iter().map(|f| &f.choice).collect();
    assert_eq!(found, held.keys().collect::<BTreeSet<_>>());
    for one in &sizing.found {
        assert_eq!(one.measures.mass.to_bits(), held[&one.choice].to_bits(), "{:?}", one.choice);
    }
    let least = held.values().copied().reduce(fishplate_quantity::algebra::smaller);
    assert_eq!(sizing.found.first().map(|f| f.measures.mass), least);
}
