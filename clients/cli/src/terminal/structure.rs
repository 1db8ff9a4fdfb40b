//! What the solver found, as tables.

use fishplate_proto::v1::{
    PlateStress, Position, SolveStructureResponse, StaticCaseAnswer, Wrench,
};

use fishplate_report::Units;

use super::number::significant;
use super::page::{Look, Page, fit, right};

/// The response as text.
pub(crate) fn structure(answer: &SolveStructureResponse, look: Look) -> String {
    let mut page = Page::new(look);
    for warning in &answer.warnings {
        page.wrapped("Mind: ", 6, warning);
    }
    sections(&mut page, answer);
    for case in &answer.static_cases {
        static_case(&mut page, case);
    }
    let factors = answer.buckling_modes.iter().map(|m| m.load_factor);
    modes(&mut page, "Buckling", "times the load", factors);
    let frequencies = answer.vibration_modes.iter().map(|m| m.frequency_hz);
    modes(&mut page, "Natural frequencies", "Hz", frequencies);
    groups(&mut page, answer);
    page.blank();
    let unit = |wire| look.units().unit(wire);
    let text = format!(
        "Movements {} and rad, forces {}, moments {}. Everything: --json",
        unit("mm"),
        unit("N"),
        unit("N mm")
    );
    page.wrapped("", 0, &text);
    page.finish()
}

/// A column: its head, and the unit of the wire that its numbers come in.
type Head = (&'static str, &'static str);

/// A table: a name, then numbers. A head with a unit behind it names the unit that is printed.
fn table(page: &mut Page, title: &str, heads: &[Head], rows: &[(String, Vec<f64>)]) {
    if rows.is_empty() {
        return;
    }
    let look = page.look();
    let longest = rows.iter().map(|r| r.0.chars().count()).max().unwrap_or_default();
    let each = 11;
    let room = look.width() - heads.len() * each;
    let name = (longest + 2).max(title.chars().count() + 2).min(room);
    page.blank();
    let units = look.units();
    let head = |(name, wire): &Head| match name.strip_suffix('#') {
        Some(name) => format!("{name}{}", units.unit(wire)),
        None => (*name).to_owned(),
    };
    let line: String = heads.iter().map(|h| right(&look.text(&head(h)), each)).collect();
    page.line(&format!("{}{line}", fit(look, title, name)));
    for (label, numbers) in rows {
        let cells = numbers.iter().zip(heads).map(|(n, (_, wire))| units.value(*n, wire));
        let line: String = cells.map(|n| right(&significant(n, 5), each)).collect();
        page.line(&format!("{}{line}", fit(look, label, name)));
    }
}

fn sections(page: &mut Page, answer: &SolveStructureResponse) {
    let rows: Vec<_> = answer
        .sections
        .iter()
        .map(|s| {
            let values = vec![s.area_mm2, s.i_y_mm4, s.i_z_mm4, s.i_yz_mm4, s.torsion_constant_mm4];
            (s.section_id.clone(), values)
        })
        .collect();
    table(page, "section", &SECTION, &rows);
}

const SECTION: [Head; 5] =
    [("A #", "mm2"), ("I_y #", "mm4"), ("I_z #", "mm4"), ("I_yz #", "mm4"), ("I_t #", "mm4")];
const SIX_MOVEMENTS: [Head; 6] = [
    ("x", "mm"),
    ("y", "mm"),
    ("z", "mm"),
    ("about x", "rad"),
    ("about y", "rad"),
    ("about z", "rad"),
];
const SIX_FORCES: [Head; 6] =
    [("F x", "N"), ("F y", "N"), ("F z", "N"), ("M x", "N mm"), ("M y", "N mm"), ("M z", "N mm")];
const MEMBER: [Head; 6] =
    [("N", "N"), ("V y", "N"), ("V z", "N"), ("T", "N mm"), ("M y", "N mm"), ("M z", "N mm")];
const BOLTS: [Head; 3] = [("shear #", "N"), ("tension #", "N"), ("on bed #", "N")];
const WELDS: [Head; 4] = [("x #", "N/mm"), ("y #", "N/mm"), ("z #", "N/mm"), ("all #", "N/mm")];
const STRESSES: [Head; 3] = [("top #", "MPa"), ("middle #", "MPa"), ("bottom #", "MPa")];
const SEAM: [Head; 4] =
    [("on #", "N/mm"), ("up #", "N/mm"), ("along #", "N/mm"), ("turning #", "N")];
const PLATE_BOLTS: [Head; 3] = [("tension #", "N"), ("shear #", "N"), ("bends #", "N mm")];
const CONTACTS: [Head; 3] = [("presses #", "N"), ("pressed #", "mm2"), ("of #", "mm2")];
const BED: [Head; 2] = [("#", "MPa"), ("pressed", "")];

fn static_case(page: &mut Page, case: &StaticCaseAnswer) {
    let units = page.look().units();
    page.blank();
    page.wrapped("", 2, &format!("Load case {}", case.load_case_id));
    let moves: Vec<_> = case
        .movements
        .iter()
        .map(|m| {
            let six = vec![
                m.move_x_mm,
                m.move_y_mm,
                m.move_z_mm,
                m.turn_x_rad,
                m.turn_y_rad,
                m.turn_z_rad,
            ];
            (m.node_id.clone(), six)
        })
        .collect();
    table(page, "movement", &SIX_MOVEMENTS, &moves);
    let reactions = case.reactions.iter().map(|r| (r.node_id.clone(), six(r.force)));
    table(page, "reaction", &SIX_FORCES, &reactions.collect::<Vec<_>>());
    let members: Vec<_> = case
        .members
        .iter()
        .flat_map(|m| {
            m.stations.iter().map(|s| {
                let six = vec![
                    s.normal_n,
                    s.shear_y_n,
                    s.shear_z_n,
                    s.torque_nmm,
                    s.moment_y_nmm,
                    s.moment_z_nmm,
                ];
                let (at, unit) = units.of(s.at_mm, "mm");
                (format!("{} at {} {unit}", m.beam_id, significant(at, 4)), six)
            })
        })
        .collect();
    table(page, "member", &MEMBER, &members);
    let springs = case.springs.iter().map(|s| (s.spring_id.clone(), six(s.force_on_a)));
    table(page, "spring", &SIX_FORCES, &springs.collect::<Vec<_>>());
    let links = case.links.iter().map(|l| (l.link_id.clone(), six(l.force)));
    table(page, "rigid link", &SIX_FORCES, &links.collect::<Vec<_>>());
    on_plates(page, case);
    if let Some(quality) = &case.quality {
        let text = format!(
            "Backward error {:.0e}, imbalance {:.0e}, condition {:.0e}.",
            quality.backward_error, quality.imbalance, quality.condition
        );
        page.wrapped("", 2, &text);
    }
}

/// What a load case does to plates and to what joins them.
fn on_plates(page: &mut Page, case: &StaticCaseAnswer) {
    let worst = case.plate_stresses.iter().map(|plate| {
        let (at, [top, middle, bottom]) = worst(plate);
        (format!("{} at {at}", plate.plate_id), vec![top, middle, bottom])
    });
    table(page, "von Mises stress", &STRESSES, &worst.collect::<Vec<_>>());
    let units = page.look().units();
    for seam in &case.seams {
        let rows = seam.stations.iter().map(|s| {
            let (at, unit) = units.of(s.at_mm, "mm");
            let numbers =
                vec![s.leg_on_n_per_mm, s.leg_up_n_per_mm, s.along_n_per_mm, s.moment_nmm_per_mm];
            (format!("at {} {unit}", significant(at, 4)), numbers)
        });
        table(page, &format!("seam {}", seam.seam_id), &SEAM, &rows.collect::<Vec<_>>());
    }
    let spots = case.spots.iter().map(|s| (s.spot_id.clone(), six(s.force)));
    table(page, "spot", &SIX_FORCES, &spots.collect::<Vec<_>>());
    let bolts = case.plate_bolts.iter().map(|b| {
        let shear = b.shear_n.iter().map(|v| (v.x * v.x + v.y * v.y + v.z * v.z).sqrt());
        let most = shear.fold(0.0, |a, b| if b > a { b } else { a });
        (b.bolt_id.clone(), vec![b.tension_n, most, b.bending_nmm])
    });
    table(page, "bolt", &PLATE_BOLTS, &bolts.collect::<Vec<_>>());
    let contacts = case.plate_contacts.iter().map(|c| {
        let pressing = c.places.iter().map(|p| p.pressing_n).sum();
        (c.contact_id.clone(), vec![pressing, c.pressed_mm2, c.area_mm2])
    });
    table(page, "contact", &CONTACTS, &contacts.collect::<Vec<_>>());
    let spreads = case.spreads.iter().map(|s| (s.spread_id.clone(), six(s.force)));
    table(page, "spread", &SIX_FORCES, &spreads.collect::<Vec<_>>());
    if let Some(factor) = case.critical_load_factor {
        let how = if case.second_order { "; solved on the deformed structure" } else { "" };
        let text = format!("Buckles at {} times these loads{how}.", significant(factor, 4));
        page.wrapped("", 2, &text);
    }
}

/// The node of a plate with the largest von Mises stress, and its three stresses.
fn worst(plate: &PlateStress) -> (&str, [f64; 3]) {
    let mut worst = ("", [0.0; 3]);
    let mut most = -1.0;
    for node in &plate.nodes {
        let Some(forces) = &node.forces else { continue };
        let stress = [&forces.top, &forces.middle, &forces.bottom]
            .map(|face| face.as_ref().map_or(0.0, |face| face.von_mises_mpa));
        let largest = stress.iter().fold(0.0, |a, b| if *b > a { *b } else { a });
        if largest > most {
            most = largest;
            worst = (node.node_id.as_str(), stress);
        }
    }
    worst
}

fn six(wrench: Option<Wrench>) -> Vec<f64> {
    let w = wrench.unwrap_or_default();
    vec![w.force_x_n, w.force_y_n, w.force_z_n, w.moment_x_nmm, w.moment_y_nmm, w.moment_z_nmm]
}

fn modes(page: &mut Page, title: &str, head: &str, values: impl Iterator<Item = f64>) {
    for (at, value) in values.enumerate() {
        if at == 0 {
            page.blank();
            page.line(&format!("{title}, {head}"));
        }
        page.line(&format!("  {:<4}{}", at + 1, significant(value, 5)));
    }
}

fn groups(page: &mut Page, answer: &SolveStructureResponse) {
    let units = page.look().units();
    for group in &answer.bolt_groups {
        let rows: Vec<_> = group
            .bolts
            .iter()
            .map(|b| {
                let tension = b.tension_bed_n.unwrap_or(b.tension_linear_n);
                (b.bolt_id.clone(), vec![b.shear_n, b.tension_linear_n, tension])
            })
            .collect();
        let title = format!("bolt group {}", group.group_id);
        table(page, &title, &BOLTS, &rows);
    }
    for group in &answer.weld_groups {
        let rows: Vec<_> = group
            .runs
            .iter()
            .flat_map(|run| {
                run.places.iter().map(|p| {
                    let at = p.at.unwrap_or_default();
                    let numbers = vec![
                        p.force_x_n_per_mm,
                        p.force_y_n_per_mm,
                        p.force_z_n_per_mm,
                        p.resultant_n_per_mm,
                    ];
                    (format!("{} at {}", run.run_id, place(at, units)), numbers)
                })
            })
            .collect();
        let title = format!("weld group {}", group.group_id);
        table(page, &title, &WELDS, &rows);
        let (highest, unit) = units.of(group.highest_stress_mpa, "MPa");
        page.line(&format!("Highest stress on a throat {} {unit}", significant(highest, 5)));
    }
    let beds: Vec<_> = answer
        .bed_contacts
        .iter()
        .map(|b| (b.contact_id.clone(), vec![b.highest_pressure_mpa, b.pressed_part]))
        .collect();
    table(page, "bed", &BED, &beds);
}

fn place(at: Position, units: Units) -> String {
    [at.x_mm, at.y_mm, at.z_mm].map(|v| significant(units.value(v, "mm"), 4)).join(", ")
}
