//! Thin sections of several flat walls: axial force and bending about both axes.
//!
//! Every force is put on the section that it would leave alone, at yield at the corner that yields
//! first, and the shares are added. The pressed force stays at the centroid of the whole section,
//! so that its distance from that of the effective one is a moment. The member does not buckle.

use std::f64::consts::PI;

use fishplate_quantity::algebra::{abs, cube, larger, smaller, sq, sqrt};
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{FlatWallsInput, ThinSectionInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{TENSION_YIELD, THIN_BENDING, THIN_COMPRESSION};
use crate::packs::american::{E_SHEET, aisi};
use crate::packs::flat_sections::{flat_walls, thin_section};
use crate::packs::flats::{Flats, Left, Pressing, Widths};

const ADDED: Source = aisi("E3, F3 and H1 (C4, C3.1.1 and C5 up to 2012)");
const LIMITS: Source = aisi("B4.1 (B1 up to 2012)");

/// Effective widths of AISI S100, Appendix 1 (B2, B3 up to 2012), from memory.
///
#[derive(Debug, Clone, Copy)]
struct Winter {
    f_y: f64,
}

impl Widths for Winter {
    fn left(self, held: (bool, bool), at: (f64, f64), ratio: f64) -> Left {
        let (most, least) = (larger(at.0, at.1), smaller(at.0, at.1));
        // Written so that NaN goes on and is noticed at rest.
        if most <= 0.0 {
            return Left::WHOLE;
        }
        let psi = larger(least / most, -10.0);
        let both = held.0 && held.1;
        let even = psi > 1.0 - 1e-9;
        let pressed_at_start = if even && !both { !held.0 } else { at.0 >= at.1 };
        let tip_pressed = !both && (pressed_at_start != held.0);
        let k = if both {
            4.0 + 2.0 * cube(1.0 - psi) + 2.0 * (1.0 - psi)
        } else if tip_pressed {
            // 0.43 for even compression.
            0.57 - 0.21 * psi + 0.07 * sq(psi)
        } else if psi >= 0.0 {
            0.578 / (psi + 0.34)
        } else {
            1.7 - 5.0 * psi + 17.1 * sq(psi)
        };
        let f_cr = k * PI * PI * E_SHEET / (12.0 * (1.0 - 0.3 * 0.3)) / sq(ratio);
        let lambda = sqrt(self.f_y / f_cr);
        // A free edge that is pressed while the held one is pulled: less of the wall is pressed.
        let relief = if tip_pressed && psi < 0.0 { 1.0 - psi } else { 1.0 };
        let rho = if lambda <= 0.673 * relief {
            1.0
        } else {
            smaller(1.0, relief * (1.0 - 0.22 * relief / lambda) / lambda)
        };
        let pulled = if psi < 0.0 { -psi / (1.0 - psi) } else { 0.0 };
        let (at_pressed, at_other) = if both {
            let near = rho / (3.0 - psi);
            // Beside the neutral axis: the smaller of the forms for wide and for narrow sections.
            let far = if psi >= 0.0 {
                rho - near
            } else if psi < -0.236 {
                smaller(rho / 2.0, larger(0.0, rho / (1.0 - psi) - near))
            } else {
                rho - near
            };
            (near, pulled + far)
        } else if tip_pressed {
            (0.0, rho)
        } else {
            (rho * (1.0 - pulled), pulled)
        };
        // Parts that meet make the wall whole, and one part of it, so that no joint shows.
        let whole = at_pressed + at_other >= 1.0;
        let (at_pressed, at_other) = if whole { (1.0, 0.0) } else { (at_pressed, at_other) };
        let (from_start, to_end) =
            if pressed_at_start { (at_pressed, at_other) } else { (at_other, at_pressed) };
        Left { from_start, to_end, psi, k_sigma: k, lambda, rho }
    }
}

/// Axial force and moments on a section, and its yield strength.
#[derive(Clone, Copy)]
struct Forces {
    n_ed: f64,
    m_y_ed: f64,
    m_z_ed: f64,
    f_y: f64,
}

/// The two rows about one kind of input.
macro_rules! rows {
    ($input:ident, $read:ident, $added:ident, $limits:ident; $place:literal, $title:literal;
     $limits_place:literal, $limits_title:literal) => {
        /// Axial force and moments each on the section that it would leave alone, shares added.
        pub(super) struct $added;

        impl Clause<$input> for $added {
            fn reference(&self) -> Source {
                aisi($place)
            }

            fn title(&self) -> &'static str {
                $title
            }

            fn short(&self) -> &'static str {
                "thin section"
            }

            fn applies(&self, _: &$input) -> Applicability {
                Applicability::Applies
            }

            fn formula(
                &self,
                input: &$input,
                factors: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                let section = $read(input, trace)?;
                let forces = Forces {
                    n_ed: input.n_ed(trace),
                    m_y_ed: input.m_y_ed(trace),
                    m_z_ed: input.m_z_ed(trace),
                    f_y: input.f_y(trace),
                };
                added(&section, forces, factors, trace)
            }
        }

        /// Walls not so wide that the rules end.
        pub(super) struct $limits;

        impl Clause<$input> for $limits {
            fn reference(&self) -> Source {
                aisi($limits_place)
            }

            fn title(&self) -> &'static str {
                $limits_title
            }

            fn short(&self) -> &'static str {
                "width to thickness"
            }

            fn kind(&self) -> Kind {
                Kind::Detailing
            }

            fn applies(&self, _: &$input) -> Applicability {
                Applicability::Applies
            }

            fn formula(
                &self,
                input: &$input,
                _: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                width_limits(&$read(input, trace)?, trace)
            }
        }
    };
}

rows!(ThinSectionInput, thin_section, Added, WidthLimits;
    "E3, F3 and H1 (C4, C3.1.1 and C5 up to 2012), section",
    "thin section of flat walls, effective widths under each force";
    "B4.1 (B1 up to 2012), section", "walls within the widths the rules reach");
rows!(FlatWallsInput, flat_walls, AddedWalls, WidthLimitsWalls;
    "E3, F3 and H1 (C4, C3.1.1 and C5 up to 2012), any flat walls",
    "thin section of any flat walls, effective widths under each force";
    "B4.1 (B1 up to 2012), any flat walls", "any flat walls within the widths the rules reach");

fn restless() -> NotChecked {
    let reason = "the effective section does not come to rest; plates must decide";
    NotChecked::NoRule { reason: reason.to_owned() }
}

fn added(
    section: &Flats,
    Forces { n_ed, m_y_ed, m_z_ed, f_y }: Forces,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<Checked, NotChecked> {
    let winter = Winter { f_y };
    let gross = section.gross();
    let even = Pressing { n: 1.0, m_y: 0.0, m_z: 0.0 };
    let (pressed, told) = if n_ed < 0.0 {
        let rest = section.at_rest(even, winter, false).ok_or_else(restless)?;
        let told = section.told(&rest.left);
        (rest.carrying, told)
    } else {
        (gross, "nothing buckles under tension".to_owned())
    };
    let solved = || Provenance::Solved(told.clone());
    let what = "area that carries the axial force";
    let a_e = trace.input("a_e", what, Dimension::Area, pressed.a, solved);
    let what = "distance of its centroid along y";
    let e_y = trace.input("e_y", what, Dimension::Length, gross.y - pressed.y, solved);
    let what = "distance of its centroid along z";
    let e_z = trace.input("e_z", what, Dimension::Length, gross.z - pressed.z, solved);
    step!(trace, Force, ADDED, "nominal strength under axial force"; p_n(a_e, f_y) = a_e * f_y);
    let p_c = if n_ed < 0.0 {
        available!(trace, factors, phi_tc or omega_tc of THIN_COMPRESSION;
            Force, ADDED, "available strength in compression"; p_c(p_n));
        p_c
    } else {
        available!(trace, factors, phi_t or omega_t of TENSION_YIELD;
            Force, ADDED, "available strength in tension"; p_c(p_n));
        p_c
    };
    let about_y = |m_y: f64| Pressing { n: 0.0, m_y, m_z: 0.0 };
    let about_z = |m_z: f64| Pressing { n: 0.0, m_y: 0.0, m_z };
    let s_e_y = modulus(section, winter, &about_y, (m_y_ed, e_z), ("s_e_y", trace))?;
    let s_e_z = modulus(section, winter, &about_z, (m_z_ed, e_y), ("s_e_z", trace))?;
    step!(trace, Moment, ADDED, "nominal moment about y"; m_n_y(s_e_y, f_y) = s_e_y * f_y);
    available!(trace, factors, phi_tb or omega_tb of THIN_BENDING;
        Moment, ADDED, "available moment about y"; m_c_y(m_n_y));
    step!(trace, Moment, ADDED, "nominal moment about z"; m_n_z(s_e_z, f_y) = s_e_z * f_y);
    available!(trace, factors, phi_tb or omega_tb of THIN_BENDING;
        Moment, ADDED, "available moment about z"; m_c_z(m_n_z));
    step!(trace, Moment, ADDED, "moment about y with that of the distance, both against";
        m_r_y(m_y_ed, n_ed, e_z) = abs(m_y_ed) + abs(n_ed * e_z));
    step!(trace, Moment, ADDED, "moment about z with that of the distance, both against";
        m_r_z(m_z_ed, n_ed, e_y) = abs(m_z_ed) + abs(n_ed * e_y));
    step!(trace, Ratio, ADDED, "utilisation, shares added";
        utilisation(n_ed, p_c, m_r_y, m_c_y, m_r_z, m_c_z) =
        abs(n_ed) / p_c + m_r_y / m_c_y + m_r_z / m_c_z);
    Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
}

/// Records and returns the effective section modulus about one axis: in the direction of the moment,
/// or the smaller of both where there is none or the distance of the centroids may turn it.
fn modulus(
    section: &Flats,
    winter: Winter,
    about: &dyn Fn(f64) -> Pressing,
    (moment, distance): (f64, f64),
    (symbol, trace): (&'static str, &mut Trace),
) -> Result<f64, NotChecked> {
    let least_distance = 1e-9 * section.walls.iter().map(|w| w.t).fold(0.0, larger);
    let alone = abs(distance) <= least_distance;
    let signs: &[f64] = match (alone, moment > 0.0, moment < 0.0) {
        (true, true, _) => &[1.0],
        (true, _, true) => &[-1.0],
        _ => &[1.0, -1.0],
    };
    let mut least = f64::INFINITY;
    for sign in signs {
        let forces = about(*sign);
        let rest = section.at_rest(forces, winter, false).ok_or_else(restless)?;
        trace.note(|| format!("{symbol}: {}", section.told(&rest.left)));
        let field = rest.carrying.field(forces);
        // Edges of the parts that carry: a free edge that buckled away does not yield first.
        let edges = section.walls.iter().zip(&rest.left).flat_map(|(wall, left)| {
            let near = (left.from_start > 0.0).then_some([0.0, left.from_start]);
            let far = (left.to_end > 0.0).then_some([1.0 - left.to_end, 1.0]);
            near.into_iter().chain(far).flatten().map(|share| wall.at(share))
        });
        let most = edges.map(|edge| abs(field.at(edge))).fold(0.0, larger);
        least = smaller(least, 1.0 / most);
    }
    let what = "effective section modulus where the effective section yields first";
    Ok(trace.input(symbol, what, Dimension::SectionModulus, least, || {
        Provenance::Solved("the effective section under this moment, at rest".to_owned())
    }))
}

/// The most slender wall of either kind over its limit.
fn width_limits(section: &Flats, trace: &mut Trace) -> Result<Checked, NotChecked> {
    let most = |held: bool| {
        let walls = section.walls.iter().filter(|w| (w.held.0 && w.held.1) == held);
        walls.map(|w| w.length() / w.t).fold(0.0, larger)
    };
    let from = || Provenance::Geometry("the walls of the section".to_owned());
    let what = "largest width over thickness of walls held at both edges";
    let held = trace.input("held", what, Dimension::Ratio, most(true), from);
    let what = "largest width over thickness of walls with a free edge";
    let free = trace.input("free", what, Dimension::Ratio, most(false), from);
    // 500 in even compression, 200 for bent webs without stiffeners: the smaller for all.
    step!(trace, Ratio, LIMITS, "utilisation of the limits 200 and 60";
        utilisation(held, free) = larger(held / 200.0, free / 60.0));
    Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
}
