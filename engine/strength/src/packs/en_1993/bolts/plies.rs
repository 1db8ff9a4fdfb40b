//! Plies weakened by bolt holes.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{AngleLegInput, Block, BoltedPlyInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{SQRT_3, general, joints, sheet};

/// Yielding of the full section in tension.
pub(super) struct GrossTension;

const GROSS_TENSION: Source = general("6.2.3(2)a, bolted ply");

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
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Force, GROSS_TENSION, "yield resistance";
            n_pl_rd(a, f_y, gamma_m0) = a * f_y / gamma_m0);
        step!(trace, Ratio, GROSS_TENSION, "utilisation";
            utilisation(n_ed, n_pl_rd) = n_ed / n_pl_rd);
        Checked::new(n_ed, n_pl_rd, Dimension::Force, utilisation)
    }
}

/// Fracture of the net section in tension.
pub(super) struct NetTension;

const NET_TENSION: Source = general("6.2.3(2)b");

impl Clause<BoltedPlyInput> for NetTension {
    fn reference(&self) -> Source {
        NET_TENSION
    }

    fn title(&self) -> &'static str {
        "fracture of the ply through the holes"
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
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, NET_TENSION, "fracture resistance of the net section";
            n_u_rd(a_net, f_u, gamma_m2) = 0.9 * a_net * f_u / gamma_m2);
        step!(trace, Ratio, NET_TENSION, "utilisation"; utilisation(n_ed, n_u_rd) = n_ed / n_u_rd);
        Checked::new(n_ed, n_u_rd, Dimension::Force, utilisation)
    }
}

/// Fracture of the net section of thin sheet.
pub(super) struct NetTensionSheet;

const NET_SHEET: Source = sheet("Table 8.4, net section");

impl Clause<BoltedPlyInput> for NetTensionSheet {
    fn reference(&self) -> Source {
        NET_SHEET
    }

    fn title(&self) -> &'static str {
        "fracture of thin sheet through the holes"
    }

    fn applies(&self, input: &BoltedPlyInput) -> Applicability {
        let stated = input.r_bolts.is_some() && input.d_0.is_some() && input.u.is_some();
        Applicability::only_if(stated, "the ply is not described as thin sheet")
    }

    fn formula(
        &self,
        input: &BoltedPlyInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let a_net = input.a_net(trace);
        let f_u = input.f_u(trace);
        let r_bolts = input.r_bolts(trace)?;
        let d_0 = input.d_0(trace)?;
        let u = input.u(trace)?;
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Ratio, NET_SHEET, "factor for the share of bolts at the section";
            k_r(r_bolts, d_0, u) = smaller(1.0, 1.0 + 3.0 * r_bolts * (d_0 / u - 0.3)));
        step!(trace, Force, NET_SHEET, "fracture resistance of the net section";
            f_n_rd(k_r, a_net, f_u, gamma_m2) = k_r * a_net * f_u / gamma_m2);
        step!(trace, Ratio, NET_SHEET, "utilisation"; utilisation(n_ed, f_n_rd) = n_ed / f_n_rd);
        Checked::new(n_ed, f_n_rd, Dimension::Force, utilisation)
    }
}

/// A block tearing out at the end.
pub(super) struct BlockTearing;

const BLOCK: Source = joints("3.10.2");

impl Clause<BoltedPlyInput> for BlockTearing {
    fn reference(&self) -> Source {
        BLOCK
    }

    fn title(&self) -> &'static str {
        "a block tearing out along the bolt line"
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
        let f_u = input.f_u(trace);
        let f_y = input.f_y(trace);
        let a_nt = input.a_nt(trace);
        let a_nv = input.a_nv(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, Source::mechanics("resultant of two components"), "force on the block";
            f_block_ed(n_ed, v_ed) = hypot(n_ed, v_ed));
        let v_eff_rd = match input.block {
            Block::Concentric => {
                step!(trace, Force, BLOCK, "resistance of the block, force through its centre";
                    v_eff_rd(f_u, a_nt, gamma_m2, f_y, a_nv, gamma_m0) =
                    f_u * a_nt / gamma_m2 + f_y * a_nv / (SQRT_3 * gamma_m0));
                v_eff_rd
            }
            Block::Eccentric => {
                step!(trace, Force, BLOCK, "resistance of the block, force beside its centre";
                    v_eff_rd(f_u, a_nt, gamma_m2, f_y, a_nv, gamma_m0) =
                    0.5 * f_u * a_nt / gamma_m2 + f_y * a_nv / (SQRT_3 * gamma_m0));
                v_eff_rd
            }
        };
        step!(trace, Ratio, BLOCK, "utilisation";
            utilisation(f_block_ed, v_eff_rd) = f_block_ed / v_eff_rd);
        Checked::new(f_block_ed, v_eff_rd, Dimension::Force, utilisation)
    }
}

/// Yielding of the full section in shear.
pub(super) struct GrossShear;

const GROSS_SHEAR: Source =
    Source::new("Steel Buildings in Europe, Multi-Storey Steel Buildings Part 5", "3.4, sheet 6");

impl Clause<BoltedPlyInput> for GrossShear {
    fn reference(&self) -> Source {
        GROSS_SHEAR
    }

    fn title(&self) -> &'static str {
        "yielding of the ply in shear, with the bending that goes with it"
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
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Force, GROSS_SHEAR, "shear resistance, 1.27 for the bending beside it";
            v_rd_g(a_v, f_y, gamma_m0) = a_v / 1.27 * f_y / (SQRT_3 * gamma_m0));
        step!(trace, Ratio, GROSS_SHEAR, "utilisation"; utilisation(v_ed, v_rd_g) = v_ed / v_rd_g);
        Checked::new(v_ed, v_rd_g, Dimension::Force, utilisation)
    }
}

/// Fracture of the net section in shear.
pub(super) struct NetShear;

const NET_SHEAR: Source = Source::new(
    "Steel Buildings in Europe, Multi-Storey Steel Buildings Part 5",
    "3.4, sheet 6, net section",
);

impl Clause<BoltedPlyInput> for NetShear {
    fn reference(&self) -> Source {
        NET_SHEAR
    }

    fn title(&self) -> &'static str {
        "fracture of the ply in shear through the holes"
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
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, NET_SHEAR, "shear resistance of the net section";
            v_rd_n(a_v_net, f_u, gamma_m2) = a_v_net * f_u / (SQRT_3 * gamma_m2));
        step!(trace, Ratio, NET_SHEAR, "utilisation"; utilisation(v_ed, v_rd_n) = v_ed / v_rd_n);
        Checked::new(v_ed, v_rd_n, Dimension::Force, utilisation)
    }
}

/// An angle pulled by one leg.
pub(super) struct AngleByOneLeg;

const ONE_LEG: Source = joints("3.10.3");

impl Clause<AngleLegInput> for AngleByOneLeg {
    fn reference(&self) -> Source {
        ONE_LEG
    }

    fn title(&self) -> &'static str {
        "angle pulled through bolts in one leg"
    }

    fn applies(&self, _: &AngleLegInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &AngleLegInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        let d_0 = input.d_0(trace);
        let n_u_rd = if input.n_bolts < 1.5 {
            let e_2 = input.e_2(trace);
            let t = input.t(trace);
            step!(trace, Force, ONE_LEG, "resistance with one bolt";
                n_u_rd(e_2, d_0, t, f_u, gamma_m2) =
                2.0 * (e_2 - 0.5 * d_0) * t * f_u / gamma_m2);
            n_u_rd
        } else {
            let n_bolts = input.n_bolts(trace);
            let p_1 = input.p_1(trace)?;
            let a_net = input.a_net(trace);
            step!(trace, Ratio, ONE_LEG, "reduction for the lever arm of the free leg";
                beta_n(n_bolts, p_1, d_0) =
                (if n_bolts < 2.5 { 0.4 } else { 0.5 })
                    + (if n_bolts < 2.5 { 0.3 } else { 0.2 })
                    * larger(0.0, smaller(1.0, (p_1 / d_0 - 2.5) / 2.5)));
            step!(trace, Force, ONE_LEG, "resistance with several bolts";
                n_u_rd(beta_n, a_net, f_u, gamma_m2) = beta_n * a_net * f_u / gamma_m2);
            n_u_rd
        };
        step!(trace, Ratio, ONE_LEG, "utilisation"; utilisation(n_ed, n_u_rd) = n_ed / n_u_rd);
        Checked::new(n_ed, n_u_rd, Dimension::Force, utilisation)
    }
}
