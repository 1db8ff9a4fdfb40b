//! Rows of the invented van.

use fishplate_proto::v1;

use super::SHARES;

fn step(
    (symbol, what): (&str, &str),
    expression: &str,
    numbers: &str,
    (value, unit): (f64, &str),
    source: &str,
) -> v1::DerivationStep {
    v1::DerivationStep {
        symbol: symbol.to_owned(),
        what: what.to_owned(),
        expression: expression.to_owned(),
        numbers: numbers.to_owned(),
        value,
        unit: unit.to_owned(),
        source: source.to_owned(),
        guessed: source.starts_with("guessed"),
    }
}

fn weld_sum() -> Vec<v1::DerivationStep> {
    vec![
        step(
            ("sigma_perp", "Stress square to the throat"),
            "",
            "",
            (66.5, "MPa"),
            "line method, case K1",
        ),
        step(("tau_perp", "Shear across the run"), "", "", (66.5, "MPa"), "line method, case K1"),
        step(("tau_par", "Shear along the run"), "", "", (12.1, "MPa"), "line method, case K1"),
        step(("f_u", "Strength of the rail"), "", "", (360.0, "MPa"), "guessed: rails.frame.steel"),
        step(("beta_w", "Correlation factor"), "", "", (0.8, ""), "EN 1993-1-8:2005, Table 4.1"),
        step(("gamma_m2", "Partial factor"), "", "", (1.25, ""), "EN 1993-1-8:2005, Table 2.1"),
        step(
            ("sigma_eq", "Comparison stress"),
            "sqrt(sq(sigma_perp) + 3.0 * (sq(tau_perp) + sq(tau_par)))",
            "sqrt(sq(66.5 MPa) + 3.0 * (sq(66.5 MPa) + sq(12.1 MPa)))",
            (134.6, "MPa"),
            "EN 1993-1-8:2005, 4.5.3.2 (4.1)",
        ),
        step(
            ("f_w", "Resistance"),
            "f_u / (beta_w * gamma_m2)",
            "360 MPa / (0.8 * 1.25)",
            (360.0, "MPa"),
            "EN 1993-1-8:2005, 4.5.3.2 (4.1)",
        ),
        step(
            ("utilisation", "Utilisation"),
            "sigma_eq / f_w",
            "134.6 MPa / 360 MPa",
            (0.3739, ""),
            "",
        ),
    ]
}

pub(super) fn rows() -> Vec<v1::Row> {
    let mut rows = Vec::new();
    for (index, (mount, side)) in [("FL", "left"), ("FR", "right")].iter().enumerate() {
        let scale = if index == 0 { 1.0 } else { 0.32 };
        rows.extend(front_rows(mount, side, scale));
    }
    for (mount, side) in [("RL", "left"), ("RR", "right")] {
        rows.extend(rear_rows(mount, side));
    }
    rows
}

fn row(mount: &str, number: u32, component: &str, what: [&str; 2]) -> v1::Row {
    v1::Row {
        id: format!("{mount}-{number}"),
        mount_id: mount.to_owned(),
        component: component.to_owned(),
        what: what[0].to_owned(),
        short_what: what[1].to_owned(),
        kind: v1::CheckKind::Strength.into(),
        ..v1::Row::default()
    }
}

fn checked(row: v1::Row, u: f64, case: &str, of: (f64, &str), clause: &str) -> v1::Row {
    v1::Row {
        state: if u > 1.0 { v1::State::Exceeds.into() } else { v1::State::Holds.into() },
        utilisation: Some(u),
        case_name: case.to_owned(),
        demand: u * of.0,
        resistance: of.0,
        unit: of.1.to_owned(),
        clause: clause.to_owned(),
        utilisation_by_case: SHARES.map(|s| s * u).to_vec(),
        ..row
    }
}

fn unchecked(row: v1::Row, reason: &str) -> v1::Row {
    v1::Row { state: v1::State::NotChecked.into(), not_checked_reason: reason.to_owned(), ..row }
}

fn front_rows(mount: &str, side: &str, scale: f64) -> Vec<v1::Row> {
    let named = |what: &str| format!("{what} {side}");
    let (bolt, bracket) = (named("bolt.front-bush"), named("part.front-bracket"));
    let (weld, rail) = (named("weld.front-foot"), named("rail.frame"));
    let slip = checked(
        row(mount, 2, &bolt, ["clamped faces slip", "slip"]),
        3.481 * scale,
        "P1",
        (2163.0, "N"),
        "friction 0.12 × least clamp force",
    );
    let bending = v1::Row {
        second_opinion: Some(v1::SecondOpinion {
            hand_utilisation: Some(0.21 * scale),
            hand_case_name: "P1".to_owned(),
            taken: v1::Opinion::Hand.into(),
            not_judged_reason: "the floor has an edge that no plate meets".to_owned(),
            ..v1::SecondOpinion::default()
        }),
        ..checked(
            row(mount, 4, &bracket, ["bending where it meets the rail", "bending"]),
            0.21 * scale,
            "P1",
            (183.0, "MPa"),
            "EN 1993-1-1:2005, 6.2.5",
        )
    };
    let throat = v1::Row {
        derivation: weld_sum(),
        alternatives: vec![v1::Alternative {
            what: "simplified method".to_owned(),
            utilisation: Some(0.456 * scale),
            case_name: "K1".to_owned(),
            note: "EN 1993-1-8:2005, 4.5.3.3; between 1.00 and 1.22 times is expected".to_owned(),
        }],
        interface_name: format!("front-bracket | rail.frame {side}"),
        ..checked(
            row(mount, 6, &weld, ["throat stress, directional", "throat stress"]),
            0.3739 * scale,
            "K1",
            (360.0, "MPa"),
            "EN 1993-1-8:2005, 4.5.3.2",
        )
    };
    let throat = v1::Row {
        second_opinion: Some(v1::SecondOpinion {
            hand_utilisation: Some(0.2611 * scale),
            hand_case_name: "K1".to_owned(),
            plate_utilisation: Some(0.3739 * scale),
            plate_case_name: "P1".to_owned(),
            ratio: Some(1.432),
            reason: "the stress piles up at the end of the run, over the first 6 mm".to_owned(),
            taken: v1::Opinion::Plate.into(),
            mesh_change: Some(0.021),
            how: "peak of the throat stress, mean over 6.0 mm".to_owned(),
            ..v1::SecondOpinion::default()
        }),
        ..throat
    };
    let web = v1::Row {
        second_opinion: Some(v1::SecondOpinion {
            hand_utilisation: Some(1.647 * scale),
            hand_case_name: "P1".to_owned(),
            plate_utilisation: Some(1.214 * scale),
            plate_case_name: "P1".to_owned(),
            ratio: Some(0.737),
            reason: "the wall also carries as a membrane".to_owned(),
            taken: v1::Opinion::Hand.into(),
            mesh_change: Some(0.062),
            how: "bending of the wall 3.1 mm from the foot".to_owned(),
            ..v1::SecondOpinion::default()
        }),
        notes: vec!["A closed rail is assumed; this one is open.".to_owned()],
        ..checked(
            row(mount, 7, &rail, ["wall bending under the foot", "web bends"]),
            1.647 * scale,
            "P1",
            (1.0, ""),
            "EN 1993-1-8:2005, Tables 7.11, 7.14",
        )
    };
    vec![
        checked(
            row(mount, 1, &named("bush.rubber"), ["travel before its stop, 5 mm", "travel"]),
            0.62 * scale,
            "K1",
            (5.0, "mm"),
            "validity of the straight spring",
        ),
        v1::Row { kind: v1::CheckKind::Serviceability.into(), ..slip },
        checked(
            row(mount, 3, &bolt, ["shear with tension, once it has slipped", "shear"]),
            0.31 * scale,
            "P1",
            (32_400.0, "N"),
            "EN 1993-1-8:2005, Table 3.4",
        ),
        bending,
        unchecked(
            row(mount, 5, &bracket, ["twist of the open U", "twist"]),
            "needs the plate level",
        ),
        throat,
        web,
        unchecked(
            row(mount, 9, &rail, ["bending and twist between its supports", "rail as a beam"]),
            "no body supports given",
        ),
    ]
}

fn rear_rows(mount: &str, side: &str) -> Vec<v1::Row> {
    let end = format!("bolt.cross-end {side}");
    vec![
        checked(
            row(
                mount,
                1,
                &format!("bush.rubber {side}"),
                ["travel before its stop, 5 mm", "travel"],
            ),
            0.75,
            "V3",
            (5.0, "mm"),
            "validity of the straight spring",
        ),
        checked(
            row(mount, 2, "part.cross", ["bending at the mount", "bending"]),
            0.07,
            "D2",
            (157.0, "MPa"),
            "EN 1993-1-1:2005, 6.2.5",
        ),
        unchecked(
            row(mount, 3, "part.cross", ["twist: load misses the shear centre", "twist"]),
            "needs the plate level",
        ),
        checked(
            row(mount, 4, &end, ["bearing on the 2.4 mm web", "bearing"]),
            0.47,
            "V3",
            (10_600.0, "N"),
            "EN 1993-1-8:2005, Table 3.4",
        ),
    ]
}
