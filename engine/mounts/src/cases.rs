//! The load cases of a project: sets written out, sides mirrored, parameters turned into those of
//! the load derivation.

use fishplate_quantity::algebra::larger;
use fishplate_quantity::written::Written;
use fishplate_quantity::{Acceleration, Faults};

use crate::describe::{CaseClass, CaseKind, CaseSet, LoadCase, Place, Project, Side};
use crate::design;
use crate::design::Vec3;
use crate::loads::{self, DriveDirection, JackPlace, PotholeForce, RearTransfer};
use crate::loads::{RestraintDirection, Shock};
use crate::loads::{TieDownDirection, TowDirection, TwistForm};

/// A load case that is run.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Case {
    /// Its name.
    pub(crate) name: String,
    /// What it is, in words.
    pub(crate) title: String,
    /// Its parameters.
    pub(crate) kind: loads::CaseKind,
    /// How often it comes.
    pub(crate) class: CaseClass,
    /// Factor on its loads.
    pub(crate) factor: f64,
    /// Whether it is the mirror image of one in the project.
    pub(crate) mirrored: bool,
    /// Path of its description.
    pub(crate) path: String,
}

/// Every case of a project, each one-sided case followed by its mirror image; with the load factors
/// of the project or without.
pub(crate) fn all(project: &Project, factored: bool, faults: &mut Faults) -> Vec<Case> {
    let described = described(project);
    let mut cases: Vec<Case> = Vec::new();
    for (case, path) in &described {
        let Some(kind) = kind(project, case, path, faults) else { continue };
        let factor = match case.class {
            _ if !factored => 1.0,
            CaseClass::Normal => project.factors.normal.value,
            CaseClass::Abuse => project.factors.abuse.value,
            CaseClass::Restraint => match project.factors.restraint {
                Some(factor) => factor.value,
                None => {
                    faults.add(
                        "factors.restraint",
                        "nothing",
                        "a factor on the loads of restraint cases, 1 or more",
                        "1.0 to 1.25 in common practice: their rates are those of a crash",
                    );
                    continue;
                }
            },
        };
        let made = |name: String, kind: loads::CaseKind, side: Option<Side>, mirrored: bool| Case {
            name,
            title: title(case, side),
            kind,
            class: case.class,
            factor,
            mirrored,
            path: path.clone(),
        };
        cases.push(made(case.name.clone(), kind, case.side, false));
        let twin = kind.mirrored();
        let named = described.iter().any(|(other, _)| {
            other.kind == case.kind
                && other.of == case.of
                && other.side == case.side.map(Side::other)
        });
        if twin != kind && !named {
            let side = case.side.map(Side::other);
            let word = side.map_or("mirrored", Side::word);
            cases.push(made(format!("{} {word}", case.name), twin, side, true));
        }
    }
    cases
}

/// The cases as described, each with its path: those of a set first, less those that the project
/// replaces by name.
fn described(project: &Project) -> Vec<(LoadCase, String)> {
    let mut described: Vec<(LoadCase, String)> = Vec::new();
    if project.case_set == Some(CaseSet::Road) {
        described.extend(road().into_iter().map(|c| (c, "case_set".to_owned())));
    }
    for (i, case) in project.cases.iter().enumerate() {
        described.retain(|(d, _)| d.name != case.name);
        described.push((case.clone(), format!("cases[{i}]")));
    }
    described
}

/// What a project leaves out or makes milder than the road set and full drive backwards: as long as
/// something is, nothing can be said to hold.
pub(crate) fn gaps(project: &Project) -> Vec<String> {
    let described = described(project);
    let backwards = plain("D3", CaseKind::DriveBackwards, CaseClass::Normal);
    let mut gaps = Vec::new();
    for wanted in road().into_iter().chain([backwards]) {
        let same = || described.iter().map(|(c, _)| c).filter(|c| c.kind == wanted.kind);
        let name = title(&wanted, None);
        let name = name.split(',').next().unwrap_or(&name).trim();
        if same().next().is_none() {
            gaps.push(format!("no {name} among the load cases"));
            continue;
        }
        let g = |c: &LoadCase, v: fn(&LoadCase) -> Option<Written<Acceleration>>| {
            v(c).map(|w| w.value.as_g().abs())
        };
        let number = |v: Option<Written<f64>>| v.map(|w| w.value);
        let mut milder = |unit: &str, of: &dyn Fn(&LoadCase) -> Option<f64>| {
            let Some(least) = of(&wanted) else { return };
            let most = same().filter_map(of).fold(0.0, larger);
            if most < least * (1.0 - 1e-9) {
                gaps.push(format!("{name}: {most}{unit} at most; the road set has {least}{unit}"));
            }
        };
        milder(" g", &|c| g(c, |c| c.field));
        milder(" g", &|c| g(c, |c| c.rate));
        milder("", &|c| number(c.factor));
        milder("", &|c| number(c.shock));
    }
    gaps.dedup();
    gaps.extend(project.cargo.iter().flat_map(|cargo| restraint_gaps(&described, &cargo.name)));
    gaps
}

/// Directions in which nobody asked whether a cargo is held, or not hard enough for a car or light
/// van: 20 g along, 8 g across (ISO 12991, Table 1, M1 and N1); 10 g rearward and up (common
/// practice, no source).
fn restraint_gaps(described: &[(LoadCase, String)], cargo: &str) -> Vec<String> {
    let mut gaps = Vec::new();
    for (kind, way, least) in [
        (CaseKind::RestraintForward, "forward", 20.0),
        (CaseKind::RestraintRearward, "rearward", 10.0),
        (CaseKind::RestraintSideways, "sideways", 8.0),
        (CaseKind::RestraintUp, "up", 10.0),
    ] {
        let rates: Vec<f64> = described
            .iter()
            .filter(|(c, _)| c.kind == kind && bare(&c.of) == cargo)
            .filter_map(|(c, _)| c.rate.map(|r| r.value.as_g()))
            .collect();
        let most = rates.iter().copied().fold(0.0, larger);
        if rates.is_empty() {
            gaps.push(format!("cargo {cargo}: no restraint {way} among the load cases"));
        } else if most < least * (1.0 - 1e-9) {
            gaps.push(format!(
                "cargo {cargo}: restraint {way} at {most} g at most; {least} g is asked of cars"
            ));
        }
    }
    gaps
}

/// The name of a cargo without the word before it.
fn bare(text: &str) -> &str {
    text.strip_prefix("cargo.").unwrap_or(text)
}

/// A case without parameters.
fn plain(name: &str, kind: CaseKind, class: CaseClass) -> LoadCase {
    LoadCase {
        name: name.to_owned(),
        kind,
        class,
        side: None,
        field: None,
        rate: None,
        brake_rate: None,
        factor: None,
        shock: None,
        grip: None,
        rear_share: None,
        roll: None,
        at: None,
        pure_couple: false,
        rotor_shock: None,
        strap_slope: None,
        strap_pretension: None,
        of: String::new(),
    }
}

/// The ten road cases. Factors: Brown, Robertson, Serpento, *Motor Vehicle Structures*, ch. 2
/// (bump 3 g, braking 1.1 g, kerb 1.75, twist 1.3); shock 1.5, grip 1.2, reversing 0.7 g, corner
/// 0.8 g with 55 % of the roll moment at the rear, pothole 2 g: common practice, no source.
fn road() -> Vec<LoadCase> {
    let g = |value: f64| Some(Written::exact(Acceleration::from_g(value)));
    let number = |value: f64| Some(Written::exact(value));
    let left = Some(Side::Left);
    use CaseClass::{Abuse, Normal};
    vec![
        plain("S0", CaseKind::Standing, Normal),
        LoadCase { field: g(3.0), ..plain("V3", CaseKind::Bump, Normal) },
        plain("D1", CaseKind::Drive, Normal),
        LoadCase { shock: number(1.5), grip: number(1.2), ..plain("D2", CaseKind::Drive, Abuse) },
        LoadCase { rate: g(1.1), ..plain("B1", CaseKind::Brake, Normal) },
        LoadCase { rate: g(0.7), ..plain("B2", CaseKind::BrakeBackwards, Normal) },
        LoadCase {
            side: left,
            rate: g(0.8),
            rear_share: number(0.55),
            ..plain("C1", CaseKind::Corner, Normal)
        },
        LoadCase { side: left, field: g(2.0), ..plain("P1", CaseKind::PotholeBraked, Abuse) },
        LoadCase { side: left, factor: number(1.75), ..plain("K1", CaseKind::Kerb, Abuse) },
        LoadCase { side: left, factor: number(1.3), ..plain("T1", CaseKind::Twist, Normal) },
    ]
}

/// What a case is, in words.
fn title(case: &LoadCase, side: Option<Side>) -> String {
    let side = side.map_or("", Side::word);
    let cargo = bare(&case.of);
    match case.kind {
        CaseKind::Standing => "standing".to_owned(),
        CaseKind::Bump => "bump".to_owned(),
        CaseKind::Rebound => "rebound".to_owned(),
        CaseKind::Twist => format!("twist, {side} wheel up"),
        CaseKind::Brake => "braking".to_owned(),
        CaseKind::BrakeBackwards => "braking backwards".to_owned(),
        CaseKind::Drive => "full drive".to_owned(),
        CaseKind::DriveBackwards => "full drive backwards".to_owned(),
        CaseKind::Corner => format!("{side} corner"),
        CaseKind::Kerb => format!("kerb, {side} wheel"),
        CaseKind::PotholeBraked => format!("pothole while braking, {side} wheel"),
        CaseKind::PotholeEdge => format!("pothole edge, {side} wheel"),
        CaseKind::CornerAndBrake => format!("{side} corner while braking"),
        CaseKind::JackCentre => "jacked in the middle".to_owned(),
        CaseKind::JackSide => format!("jacked on the {side}"),
        CaseKind::Lift => "on a lift".to_owned(),
        CaseKind::TowForward => "towed forward".to_owned(),
        CaseKind::TowRearward => "pulled rearward".to_owned(),
        CaseKind::TieDownForward => "strapped down, carrier braking".to_owned(),
        CaseKind::TieDownRearward => "strapped down, carrier accelerating".to_owned(),
        CaseKind::TieDownSideways => format!("strapped down, thrown to the {side}"),
        CaseKind::RestraintForward => format!("restraint, {cargo} thrown forward"),
        CaseKind::RestraintRearward => format!("restraint, {cargo} thrown rearward"),
        CaseKind::RestraintSideways => format!("restraint, {cargo} thrown to the {side}"),
        CaseKind::RestraintUp => format!("restraint, {cargo} thrown up"),
        CaseKind::RestraintDown => format!("restraint, {cargo} pressed down"),
    }
}

/// Asks a case for its parameters; what is missing is a fault.
struct Ask<'a, 'f> {
    case: &'a LoadCase,
    path: &'a str,
    faults: &'f mut Faults,
    missing: bool,
}

impl Ask<'_, '_> {
    fn need<T>(&mut self, field: &str, value: Option<T>, what: &str) -> Option<T> {
        if value.is_none() {
            self.missing = true;
            self.faults.add(
                format!("{}.{field}", self.path),
                "nothing",
                what,
                format!("case {} needs it", self.case.name),
            );
        }
        value
    }

    fn rate(&mut self) -> f64 {
        let rate = self.case.rate.map(|r| r.value.as_g());
        self.need("rate", rate, "a rate in g, such as \"1.1 g\"").unwrap_or(0.0)
    }

    fn side(&mut self) -> Side {
        self.need("side", self.case.side, "left or right").unwrap_or(Side::Left)
    }

    fn factor(&mut self) -> f64 {
        let factor = self.case.factor.map(|f| f.value);
        self.need("factor", factor, "a factor, such as \"1.75\"").unwrap_or(0.0)
    }

    fn at(&mut self) -> Vec3 {
        let full = self.case.at.filter(|p: &Place| p.given() == 3);
        let at = self.need("at", full, "a point of the cradle: x, y, z").unwrap_or_default();
        Vec3::new(at.x.unwrap_or(0.0), at.y.unwrap_or(0.0), at.z.unwrap_or(0.0))
    }

    fn transfer(&mut self) -> RearTransfer {
        if let Some(roll) = self.case.roll {
            return RearTransfer::RollStiffness(roll);
        }
        let share = self.case.rear_share.map(|s| s.value);
        let what = "the rear axle's share of the roll moment, 0.4 to 0.6 in common practice";
        RearTransfer::Share(self.need("rear_share", share, what).unwrap_or(0.5))
    }
}

/// The parameters of a case, or nothing where one is missing.
fn kind(
    project: &Project,
    case: &LoadCase,
    path: &str,
    faults: &mut Faults,
) -> Option<loads::CaseKind> {
    if case.kind.is_restraint() {
        return restraint(project, case, path, faults);
    }
    if !case.of.is_empty() {
        faults.add(
            format!("{path}.of"),
            case.of.clone(),
            "nothing: only restraint cases are about a cargo",
            "every other case acts on the whole car, with all cargo in it",
        );
    }
    if case.class == CaseClass::Restraint {
        faults.add(
            format!("{path}.class"),
            "restraint",
            "normal or abuse",
            "only cases that throw a cargo against its feet are restraint cases",
        );
    }
    let mut ask = Ask { case, path, faults, missing: false };
    let field = case.field.map(|f| f.value.as_g());
    let tie = |ask: &mut Ask<'_, '_>, direction: TieDownDirection| {
        let slope = ask.case.strap_slope;
        let pretension = ask.case.strap_pretension;
        loads::CaseKind::TieDown(loads::case::TieDown {
            direction,
            rate: ask.rate(),
            eye: ask.at(),
            slope: ask
                .need("strap_slope_deg", slope, "slope of the straps against the ground")
                .unwrap_or(0.0),
            pretension: ask
                .need("strap_pretension_n", pretension, "pretension of each strap")
                .unwrap_or(0.0),
        })
    };
    let kind = match case.kind {
        CaseKind::Standing => loads::CaseKind::Standing,
        CaseKind::Bump => loads::CaseKind::Bump {
            field: ask.need("field", field, "a vertical field, such as \"3 g\"").unwrap_or(1.0),
        },
        CaseKind::Rebound => loads::CaseKind::Rebound {
            field: ask.need("field", field, "a vertical field below 0").unwrap_or(-1.0),
        },
        CaseKind::Twist => loads::CaseKind::Twist {
            side: ask.side(),
            factor: ask.factor(),
            form: if case.pure_couple { TwistForm::PureCouple } else { TwistForm::OneWheel },
        },
        CaseKind::Brake => loads::CaseKind::Brake { rate: ask.rate(), field: field.unwrap_or(1.0) },
        CaseKind::BrakeBackwards => {
            loads::CaseKind::BrakeBackwards { rate: ask.rate(), field: field.unwrap_or(1.0) }
        }
        CaseKind::Drive | CaseKind::DriveBackwards => loads::CaseKind::Drive {
            direction: if case.kind == CaseKind::Drive {
                DriveDirection::Forward
            } else {
                DriveDirection::Reverse
            },
            shock: match (case.rotor_shock, case.shock) {
                (Some((wheel_speed_change, duration)), _) => {
                    Shock::Rotor { wheel_speed_change, duration }
                }
                (None, Some(factor)) => Shock::Factor(factor.value),
                (None, None) => Shock::None,
            },
            grip: case.grip.map(|g| g.value),
        },
        CaseKind::Corner => {
            loads::CaseKind::Corner { side: ask.side(), rate: ask.rate(), transfer: ask.transfer() }
        }
        CaseKind::CornerAndBrake => loads::CaseKind::CornerAndBrake {
            side: ask.side(),
            corner_rate: ask.rate(),
            brake_rate: {
                let rate = case.brake_rate.map(|r| r.value.as_g());
                ask.need("brake_rate", rate, "a braking rate in g").unwrap_or(0.0)
            },
            transfer: ask.transfer(),
        },
        CaseKind::Kerb => loads::CaseKind::Kerb { side: ask.side(), factor: ask.factor() },
        CaseKind::PotholeBraked => loads::CaseKind::Pothole {
            side: ask.side(),
            field: ask.need("field", field, "a vertical field, such as \"2 g\"").unwrap_or(1.0),
            force: PotholeForce::LockedBrake,
        },
        CaseKind::PotholeEdge => loads::CaseKind::Pothole {
            side: ask.side(),
            field: ask.need("field", field, "a vertical field, such as \"2 g\"").unwrap_or(1.0),
            force: PotholeForce::Edge { factor: ask.factor() },
        },
        CaseKind::JackCentre => {
            loads::CaseKind::Jack { place: JackPlace::Middle, at: ask.at(), factor: ask.factor() }
        }
        CaseKind::JackSide => loads::CaseKind::Jack {
            place: JackPlace::OneSide(ask.side()),
            at: ask.at(),
            factor: ask.factor(),
        },
        CaseKind::Lift => loads::CaseKind::Lift { factor: ask.factor() },
        CaseKind::TowForward | CaseKind::TowRearward => loads::CaseKind::Tow {
            direction: if case.kind == CaseKind::TowForward {
                TowDirection::Forward
            } else {
                TowDirection::Rearward
            },
            at: ask.at(),
            factor: ask.factor(),
        },
        CaseKind::TieDownForward => tie(&mut ask, TieDownDirection::Forward),
        CaseKind::TieDownRearward => tie(&mut ask, TieDownDirection::Rearward),
        CaseKind::TieDownSideways => {
            let side = ask.side();
            tie(&mut ask, TieDownDirection::Side(side))
        }
        CaseKind::RestraintForward
        | CaseKind::RestraintRearward
        | CaseKind::RestraintSideways
        | CaseKind::RestraintUp
        | CaseKind::RestraintDown => return None,
    };
    (!ask.missing).then_some(kind)
}

/// A cargo thrown against its feet.
fn restraint(
    project: &Project,
    case: &LoadCase,
    path: &str,
    faults: &mut Faults,
) -> Option<loads::CaseKind> {
    if case.class != CaseClass::Restraint {
        faults.add(
            format!("{path}.class"),
            if case.class == CaseClass::Normal { "normal" } else { "abuse" },
            "restraint",
            "what a crash asks has a factor of its own",
        );
    }
    let cargo = design::cargo_named(project, &case.of, &format!("{path}.of"), faults);
    let mut ask = Ask { case, path, faults, missing: false };
    let rate = ask.rate();
    let direction = match case.kind {
        CaseKind::RestraintForward => RestraintDirection::Forward,
        CaseKind::RestraintRearward => RestraintDirection::Rearward,
        CaseKind::RestraintUp => RestraintDirection::Up,
        CaseKind::RestraintDown => RestraintDirection::Down,
        _ => RestraintDirection::Side(ask.side()),
    };
    let cargo = cargo.filter(|_| !ask.missing)?;
    Some(loads::CaseKind::Restraint { direction, rate, cargo })
}
