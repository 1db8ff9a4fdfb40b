//! Plies weakened by bolt holes: tension, shear and the block that tears out.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{Block, BoltedPlyInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{SHEAR_YIELD, TENSION_RUPTURE, TENSION_YIELD};
use crate::packs::american::{IN, aisc, since};

/// A hole counts 1/16 in wider than it is, for the metal its making spoils.
const HOLES: Source = aisc("B4.3b");

/// Yielding of the full section in tension.
pub(super) struct GrossTension;

const GROSS_TENSION: Source = aisc("J4.1(a)");

impl Clause<BoltedPlyInput> for GrossTension {
    fn reference(&self) -> Source {
        GROSS_TENSION
    }

    fn title(&self) -> &'static str {
        "yielding of the ply in tension"
    }

    fn applies(&self, _: &BoltedPlyInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &BoltedPlyInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let a = input.a(trace);
        let f_y = input.f_y(trace);
        step!(trace, Force, GROSS_TENSION, "nominal strength"; p_ny(a, f_y) = f_y * a);
        available!(trace, factors, phi_t or omega_t of TENSION_YIELD;
            Force, GROSS_TENSION, "available strength in yielding"; p_y(p_ny));
        step!(trace, Ratio, GROSS_TENSION, "utilisation"; utilisation(n_ed, p_y) = n_ed / p_y);
        Checked::new(n_ed, p_y, Dimension::Force, utilisation)
    }
}

/// Rupture of the effective net section in tension.
pub(super) struct NetTension;

const NET_TENSION: Source = aisc("J4.1(b) and D3");

impl Clause<BoltedPlyInput> for NetTension {
    fn reference(&self) -> Source {
        NET_TENSION
    }

    fn title(&self) -> &'static str {
        "rupture of the ply through the holes"
    }

    fn applies(&self, _: &BoltedPlyInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &BoltedPlyInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let a_net = input.a_net(trace);
        let n_h = input.n_h(trace)?;
        let t = input.t(trace)?;
        let f_u = input.f_u(trace);
        step!(trace, Area, HOLES, "net area, every hole 1/16 in wider";
            a_n(a_net, n_h, t) = a_net - n_h * t * IN / 16.0);
        let a_n = left_over(a_n, "a_net", "area across the pull less holes")?;
        let a_e = if input.u_lag.is_some() {
            let u_lag = input.u_lag(trace)?;
            if u_lag > 1.0 {
                return Err(NotChecked::OutOfRange {
                    symbol: "u_lag",
                    what: "shear lag factor",
                    value: u_lag,
                    dimension: Dimension::Ratio,
                    allowed: "at most 1",
                });
            }
            step!(trace, Area, aisc("D3"), "effective net area"; a_e(a_n, u_lag) = a_n * u_lag);
            a_e
        } else {
            trace.note(|| "no shear lag: every part of the section is connected".to_owned());
            step!(trace, Area, aisc("D3"), "effective net area"; a_e(a_n) = a_n);
            a_e
        };
        // The cap for splice plates is in J4.1(b) of 2005 and 2010.
        let a_e = if since(2016, factors, trace) {
            a_e
        } else {
            let a = input.a(trace);
            step!(trace, Area, NET_TENSION, "effective net area of a splice plate";
                a_e(a_e, a) = smaller(a_e, 0.85 * a));
            a_e
        };
        step!(trace, Force, NET_TENSION, "nominal strength"; p_nr(f_u, a_e) = f_u * a_e);
        available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
            Force, NET_TENSION, "available strength in rupture"; p_r(p_nr));
        step!(trace, Ratio, NET_TENSION, "utilisation"; utilisation(n_ed, p_r) = n_ed / p_r);
        Checked::new(n_ed, p_r, Dimension::Force, utilisation)
    }
}

/// The area that the holes leave.
fn left_over(area: f64, symbol: &'static str, what: &'static str) -> Result<f64, NotChecked> {
    if area > 0.0 {
        return Ok(area);
    }
    Err(NotChecked::OutOfRange {
        symbol,
        what,
        value: area,
        dimension: Dimension::Area,
        allowed: "more than the holes take when each counts 1/16 in wider",
    })
}

/// Yielding of the full section in shear.
pub(super) struct GrossShear;

const GROSS_SHEAR: Source = aisc("J4.2(a)");

impl Clause<BoltedPlyInput> for GrossShear {
    fn reference(&self) -> Source {
        GROSS_SHEAR
    }

    fn title(&self) -> &'static str {
        "yielding of the ply in shear"
    }

    fn applies(&self, _: &BoltedPlyInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &BoltedPlyInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let v_ed = input.v_ed(trace);
        let a_v = input.a_v(trace);
        let f_y = input.f_y(trace);
        step!(trace, Force, GROSS_SHEAR, "nominal strength"; v_ny(f_y, a_v) = 0.60 * f_y * a_v);
        available!(trace, factors, phi_y or omega_y of SHEAR_YIELD;
            Force, GROSS_SHEAR, "available strength in yielding"; v_y(v_ny));
        step!(trace, Ratio, GROSS_SHEAR, "utilisation"; utilisation(v_ed, v_y) = v_ed / v_y);
        Checked::new(v_ed, v_y, Dimension::Force, utilisation)
    }
}

/// Rupture of the net section in shear.
pub(super) struct NetShear;

const NET_SHEAR: Source = aisc("J4.2(b)");

impl Clause<BoltedPlyInput> for NetShear {
    fn reference(&self) -> Source {
        NET_SHEAR
    }

    fn title(&self) -> &'static str {
        "rupture of the ply in shear through the holes"
    }

    fn applies(&self, _: &BoltedPlyInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &BoltedPlyInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let v_ed = input.v_ed(trace);
        let a_v_net = input.a_v_net(trace);
        let n_h_s = input.n_h_s(trace)?;
        let t = input.t(trace)?;
        let f_u = input.f_u(trace);
        step!(trace, Area, HOLES, "net area, every hole 1/16 in wider";
            a_nv_s(a_v_net, n_h_s, t) = a_v_net - n_h_s * t * IN / 16.0);
        let a_nv_s = left_over(a_nv_s, "a_v_net", "area along the shear less holes")?;
        step!(trace, Force, NET_SHEAR, "nominal strength";
            v_nr(f_u, a_nv_s) = 0.60 * f_u * a_nv_s);
        available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
            Force, NET_SHEAR, "available strength in rupture"; v_r(v_nr));
        step!(trace, Ratio, NET_SHEAR, "utilisation"; utilisation(v_ed, v_r) = v_ed / v_r);
        Checked::new(v_ed, v_r, Dimension::Force, utilisation)
    }
}

/// A block tearing out at the end.
pub(super) struct BlockShear;

const BLOCK: Source = aisc("J4.3");

impl Clause<BoltedPlyInput> for BlockShear {
    fn reference(&self) -> Source {
        BLOCK
    }

    fn title(&self) -> &'static str {
        "a block tearing out along the bolt line"
    }

    fn short(&self) -> &'static str {
        "block shear"
    }

    fn applies(&self, _: &BoltedPlyInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &BoltedPlyInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let v_ed = input.v_ed(trace);
        step!(trace, Force, Source::mechanics("resultant of two components"), "force on the block";
            f_block_ed(n_ed, v_ed) = hypot(n_ed, v_ed));
        let a_nt = input.a_nt(trace);
        let a_nv = input.a_nv(trace);
        let n_h_t = input.n_h_t(trace)?;
        let n_h_v = input.n_h_v(trace)?;
        let t = input.t(trace)?;
        let d_0 = input.d_0(trace)?;
        let f_y = input.f_y(trace);
        let f_u = input.f_u(trace);
        step!(trace, Area, Source::mechanics("holes added back"), "gross area in shear";
            a_gv(a_nv, n_h_v, d_0, t) = a_nv + n_h_v * d_0 * t);
        step!(trace, Area, HOLES, "net area in shear, every hole 1/16 in wider";
            a_nv_s(a_nv, n_h_v, t) = a_nv - n_h_v * t * IN / 16.0);
        let a_nv_s = left_over(a_nv_s, "a_nv", "net area in shear of the block")?;
        step!(trace, Area, HOLES, "net area in tension, every hole 1/16 in wider";
            a_nt_s(a_nt, n_h_t, t) = a_nt - n_h_t * t * IN / 16.0);
        let a_nt_s = left_over(a_nt_s, "a_nt", "net area in tension of the block")?;
        step!(trace, Force, BLOCK, "shear faces in rupture";
            v_nr(f_u, a_nv_s) = 0.60 * f_u * a_nv_s);
        step!(trace, Force, BLOCK, "shear faces in yielding"; v_ny(f_y, a_gv) = 0.60 * f_y * a_gv);
        let r_nt = match input.block {
            Block::Concentric => {
                step!(trace, Force, BLOCK, "tension face, evenly stressed";
                    r_nt(f_u, a_nt_s) = 1.0 * f_u * a_nt_s);
                r_nt
            }
            Block::Eccentric => {
                step!(trace, Force, BLOCK, "tension face, unevenly stressed";
                    r_nt(f_u, a_nt_s) = 0.5 * f_u * a_nt_s);
                r_nt
            }
        };
        step!(trace, Force, BLOCK, "nominal strength of the block";
            r_n(v_nr, v_ny, r_nt) = smaller(v_nr, v_ny) + r_nt);
        available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
            Force, BLOCK, "available strength of the block"; r_block(r_n));
        step!(trace, Ratio, BLOCK, "utilisation";
            utilisation(f_block_ed, r_block) = f_block_ed / r_block);
        trace.note(|| {
            let which = if v_nr < v_ny { "rupture" } else { "yielding" };
            format!("{which} governs on the shear faces")
        });
        Checked::new(f_block_ed, r_block, Dimension::Force, utilisation)
    }
}
