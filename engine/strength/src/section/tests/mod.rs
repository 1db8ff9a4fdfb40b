//! Sections against closed forms, handbook tables and independent computations.

mod invariance;
mod tabulated;
mod thin_walled;
mod worked;

use super::SectionError;

/// Millimetres to metres.
pub(super) const MM: f64 = 1e-3;

/// Asserts that a value in mm^power agrees with the expected one to a relative tolerance.
#[track_caller]
pub(super) fn agrees_mm(what: &str, got: f64, power: i32, expected: f64, relative: f64) {
    agrees(what, got * 1e3_f64.powi(power), expected, relative);
}

/// Asserts that two values agree to a relative tolerance (absolute where zero is expected).
#[track_caller]
pub(super) fn agrees(what: &str, got: f64, expected: f64, relative: f64) {
    let scale = if expected.abs() > 0.0 { expected.abs() } else { 1.0 };
    let error = (got - expected).abs() / scale;
    assert!(error <= relative, "{what}: got {got}, expected {expected}, off by {error:e}");
}

#[test]
fn impossible_dimensions_are_refused_with_field_and_limits() {
    use super::{
        Angle, BuiltUp, BuiltUpTorsion, Channel, Flat, Hat, Midline, MidlineWall, Placed,
        RectangularTube, RoundBar, RoundTube, SectionShape, TubeWall,
    };
    let text = |e: SectionError| e.to_string();
    let thin = Angle::sharp(0.05, 0.05, 0.03).map(|_| ()).map_err(text);
    assert_eq!(thin, Err("angle: thickness is 30 mm; it must be from 0.001 to 25 mm".to_owned()));
    assert!(Angle::new(0.05, 0.05, 0.005, 0.05, 0.0).is_err());
    assert!(Angle::new(0.05, 0.05, 0.005, f64::NAN, 0.0).is_err());
    assert!(Angle::sharp(f64::INFINITY, 0.05, 0.005).is_err());
    assert!(Channel::new(0.1, 0.05, -0.005, 0.005, 0.0, 0.0).is_err());
    assert!(Channel::new(0.1, 0.05, 0.005, 0.005, 0.0, 0.02).is_err());
    assert!(RoundTube::new(0.05, 0.025).is_err());
    assert!(RoundTube::worn(0.05, 0.003, 0.002, 0.002).is_err());
    assert!(RoundBar::new(0.0).is_err());
    assert!(Flat::new(0.05, f64::NAN).is_err());
    assert!(Hat::closed(0.06, 0.045, 0.018, 0.0015, 0.05, 0.0012).is_err());
    assert!(RectangularTube::uniform(0.05, 0.05, 0.003, 0.02, 0.0).is_err());
    let gone = TubeWall { nominal: 0.002, loss_outside: 0.001, loss_inside: 0.001 };
    let sound = TubeWall::sound(0.002);
    assert!(RectangularTube::new(0.05, 0.05, [sound, gone, sound, sound], 0.0, 0.0).is_err());
    let nodes = vec![(0.0, 0.0), (0.05, 0.0), (0.05, 0.05), (0.1, 0.1)];
    let wall = |from, to| MidlineWall { from, to, t: 0.002 };
    let midline = |walls| Midline::new(nodes.clone(), walls);
    assert_eq!(midline(vec![wall(0, 1), wall(1, 2)]), Err(SectionError::Disconnected { node: 3 }));
    assert!(matches!(
        midline(vec![wall(0, 1), wall(1, 9)]),
        Err(SectionError::NoSuchNode { wall: 1, node: 9, .. })
    ));
    let straight =
        Midline::new(vec![(0.0, 0.0), (0.05, 0.05), (0.1, 0.1)], vec![wall(0, 1), wall(1, 2)]);
    assert_eq!(straight, Err(SectionError::Straight));
    let flat = || SectionShape::from(Flat::new(0.05, 0.01).unwrap());
    let whole = |parts| BuiltUp::new(parts, BuiltUpTorsion::SumOfParts).map(|_| ());
    let apart = |dz| vec![Placed::at_offset(flat(), 0.0, 0.0), Placed::at_offset(flat(), 0.0, dz)];
    assert_eq!(whole(apart(0.01)), Ok(()));
    assert_eq!(whole(apart(0.009)), Err(SectionError::Overlap { first: 0, second: 1 }));
    assert_eq!(whole(apart(0.0)), Err(SectionError::Overlap { first: 0, second: 1 }));
    assert!(whole(Vec::new()).is_err());
    let bar = SectionShape::from(RoundBar::new(0.044).unwrap());
    let tube = SectionShape::from(RoundTube::new(0.05, 0.003).unwrap());
    let nested = |bar: SectionShape| {
        whole(vec![
            Placed::at_offset(tube.clone(), 0.0, 0.0),
            Placed { shape: bar, dy: 0.0, dz: 0.0, rotation: 0.3 },
        ])
    };
    assert_eq!(nested(bar), Ok(()), "a bar that just fills its tube");
    let thick = SectionShape::from(RoundBar::new(0.046).unwrap());
    assert_eq!(nested(thick), Err(SectionError::Overlap { first: 0, second: 1 }));
}
