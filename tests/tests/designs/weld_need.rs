//! How much of a weld a force needs: EN 1993-1-8 4.5.3.3 for the throat, shear yielding for the sheet.

use fishplate_proto::v1;
use fishplate_tests::project::mm;
use fishplate_tests::refusal::Refusal;
use fishplate_tests::service;

use crate::bench::{FORWARD, GAMMA, UP, assert_near, reading, single_bracket};

fn asked(p: &v1::Project, force_n: Option<f64>) -> v1::NeedWeldResponse {
    let request =
        v1::NeedWeldRequest { project: Some(p.clone()), weld: "weld.foot".to_owned(), force_n };
    service::need_weld(&request).unwrap_or_else(|s| panic!("refused: {:?}", Refusal::of(&s)))
}

fn rule(side: &v1::WeldSide, sheet: bool) -> &v1::WeldLengthRule {
    side.rules.iter().find(|r| r.sheet == sheet).expect("both rules are there")
}

/// Mild steel, f_y 235, f_u 360, beta_w 0.8, gamma_M2 1.25: a leg as thick as the sheet. Sheet: t f_y /
/// sqrt 3; 10 kN times 1.5 over that, to the mm as handbooks print it. Throat: f_u/(sqrt 3 beta_w
/// gamma_M2) over sqrt 2; handbooks that print 0.7 of the leg for the throat are 1 % lower.
#[test]
fn ten_kilonewtons_on_thin_and_on_thick_sheet() {
    for (t, weld, sheet, length) in [
        (1.2, 175.0, 163.0, 92.0),
        (1.35, 196.0, 183.0, 82.0),
        (1.6, 233.0, 217.0, 69.0),
        (2.0, 291.0, 271.0, 55.0),
        (2.2, 320.0, 298.0, 50.0),
        (3.0, 436.0, 407.0, 37.0),
        (4.0, 582.0, 543.0, 28.0),
        (5.0, 727.0, 678.0, 22.0),
    ] {
        let mut p = single_bracket(6.0);
        p.rails[0].readings = vec![reading(-300.0, t), reading(300.0, t)];
        if let Some(v1::rail::Section::Channel(channel)) = &mut p.rails[0].section {
            channel.wall_mm = t;
        }
        let answer = asked(&p, Some(15_000.0));
        let rail = answer.sides.iter().find(|s| s.part.starts_with("rail")).expect("a side");
        assert_near("thickness", rail.thickness_mm, t);
        assert_near("leg", rail.leg_mm, t);
        let (throat, beside) = (rule(rail, false), rule(rail, true));
        assert!((beside.carries_n_per_mm - sheet).abs() <= 0.51, "{t}: {beside:?}");
        assert!((beside.length_mm - length).abs() <= 0.5, "{t}: {beside:?}");
        let printed = throat.carries_n_per_mm * 0.7 * 2f64.sqrt();
        assert!((printed - weld).abs() <= 0.51, "{t}: {printed} {weld}");
        let exact = 360.0 / (3f64.sqrt() * 0.8 * 1.25) * t / 2f64.sqrt();
        assert_near("throat", throat.carries_n_per_mm, exact);
        assert!(beside.length_mm > throat.length_mm, "on thin sheet the sheet governs");
    }
}

#[test]
fn on_a_plate_thicker_than_the_leg_the_throat_governs() {
    let mut p = single_bracket(4.0);
    p.welds[0].leg = mm(4.0);
    let answer = asked(&p, Some(15_000.0));
    let plate = answer.sides.iter().find(|s| s.part.starts_with("part.bracket")).expect("a side");
    assert_near("leg", plate.leg_mm, 4.0);
    assert!(rule(plate, false).length_mm > rule(plate, true).length_mm, "{plate:?}");
}

/// In `tow` the mount pushes forward and up (statics); everyday cases times 1.5.
#[test]
fn the_force_at_hand_is_the_largest_that_crosses_the_weld() {
    let answer = asked(&single_bracket(6.0), None);
    assert_eq!(answer.case_name, "tow");
    assert_near("force", answer.force_n, GAMMA * FORWARD.hypot(UP));
    assert_near("drawn", answer.drawn_mm, 160.0);
}

#[test]
fn a_weld_that_is_not_there_is_refused() {
    let refused = |weld: &str, force_n| {
        let request = v1::NeedWeldRequest {
            project: Some(single_bracket(6.0)),
            weld: weld.to_owned(),
            force_n,
        };
        let status = service::need_weld(&request).expect_err("it is refused");
        Refusal::of(&status).fields.into_iter().map(|(field, _)| field).collect::<Vec<_>>()
    };
    assert_eq!(refused("weld.moon", None), ["weld"]);
    assert_eq!(refused("", Some(-1.0)), ["weld", "force_n"]);
}
