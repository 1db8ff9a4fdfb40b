//! Compression with bending, second method.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::MemberInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::general;

use super::beam_column::{Compressed, Diagram, closed, in_scope, psi_y, psi_z, turns};
use super::class::Class;

/// Buckling under compression and bending by the factors of Annex B.
///
/// Channels and flats take the factors of I sections.
pub(super) struct BeamColumnB;

const COLUMN: Source = general("6.3.3 and Annex B");
const TABLE_1: Source = general("Table B.1");
const TABLE_2: Source = general("Table B.2");
const TABLE_3: Source = general("Table B.3");

impl Clause<MemberInput> for BeamColumnB {
    fn reference(&self) -> Source {
        COLUMN
    }

    fn title(&self) -> &'static str {
        "buckling of the member under compression and bending"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        in_scope(input, false)
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let member = Compressed::read(input, factors, trace)?;
        let (n_b_y, lambda_y) = (member.y.n_b, member.y.lambda);
        let (n_b_z, lambda_z) = (member.z.n_b, member.z.lambda);
        let Compressed { n_c_ed, r_y, r_z, .. } = member;
        step!(trace, Ratio, COLUMN, "axial force over buckling resistance, y";
            n_y(n_c_ed, n_b_y) = n_c_ed / n_b_y);
        step!(trace, Ratio, COLUMN, "axial force over buckling resistance, z";
            n_z(n_c_ed, n_b_z) = n_c_ed / n_b_z);
        let c_m_y = moment_factor_y(input, member.m_y, trace)?;
        let c_m_z = moment_factor_z(input, member.m_z, trace)?;
        let stocky = member.strut.class <= Class::Two;
        let (k_yy, k_zz, k_yz) = if stocky {
            step!(trace, Ratio, TABLE_1, "growth of the moment about y";
                k_yy(c_m_y, lambda_y, n_y) =
                c_m_y * (1.0 + smaller(positive(lambda_y - 0.2), 0.8) * n_y));
            let k_zz = if closed(input) {
                step!(trace, Ratio, TABLE_1, "growth of the moment about z";
                    k_zz(c_m_z, lambda_z, n_z) =
                    c_m_z * (1.0 + smaller(positive(lambda_z - 0.2), 0.8) * n_z));
                k_zz
            } else {
                step!(trace, Ratio, TABLE_1, "growth of the moment about z, open section";
                    k_zz(c_m_z, lambda_z, n_z) =
                    c_m_z * (1.0 + smaller(positive(2.0 * lambda_z - 0.6), 1.4) * n_z));
                k_zz
            };
            step!(trace, Ratio, TABLE_1, "share of z in buckling about y"; k_yz(k_zz) = 0.6 * k_zz);
            (k_yy, k_zz, k_yz)
        } else {
            step!(trace, Ratio, TABLE_1, "growth of the moment about y";
                k_yy(c_m_y, lambda_y, n_y) = c_m_y * (1.0 + 0.6 * smaller(lambda_y, 1.0) * n_y));
            step!(trace, Ratio, TABLE_1, "growth of the moment about z";
                k_zz(c_m_z, lambda_z, n_z) = c_m_z * (1.0 + 0.6 * smaller(lambda_z, 1.0) * n_z));
            step!(trace, Ratio, TABLE_1, "share of z in buckling about y"; k_yz(k_zz) = k_zz);
            (k_yy, k_zz, k_yz)
        };
        let k_zy = match (turns(input), stocky) {
            (false, true) => {
                step!(trace, Ratio, TABLE_1, "share of y in buckling about z"; k_zy(k_yy) = 0.6 * k_yy);
                k_zy
            }
            (false, false) => {
                step!(trace, Ratio, TABLE_1, "share of y in buckling about z"; k_zy(k_yy) = 0.8 * k_yy);
                k_zy
            }
            // The moment about y between the points held against turning is that of the member.
            (true, true) => {
                step!(trace, Ratio, TABLE_2, "share of y in buckling about z, with turning";
                k_zy(lambda_z, n_z, c_m_y) =
                if lambda_z < 0.4 {
                    smaller(0.6 + lambda_z, 1.0 - 0.1 * lambda_z * n_z / (c_m_y - 0.25))
                } else {
                    1.0 - 0.1 * smaller(lambda_z, 1.0) * n_z / (c_m_y - 0.25)
                });
                k_zy
            }
            (true, false) => {
                step!(trace, Ratio, TABLE_2, "share of y in buckling about z, with turning";
                    k_zy(lambda_z, n_z, c_m_y) =
                    1.0 - 0.05 * smaller(lambda_z, 1.0) * n_z / (c_m_y - 0.25));
                k_zy
            }
        };
        step!(trace, Ratio, COLUMN, "buckling about y (6.61)";
            about_y(n_y, k_yy, r_y, k_yz, r_z) = n_y + k_yy * r_y + k_yz * r_z);
        step!(trace, Ratio, COLUMN, "buckling about z (6.62)";
            about_z(n_z, k_zy, r_y, k_zz, r_z) = n_z + positive(k_zy) * r_y + k_zz * r_z);
        step!(trace, Ratio, COLUMN, "utilisation, the larger of both";
            utilisation(about_y, about_z) = larger(about_y, about_z));
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// The factor for the shape of the moment diagram, Table B.3.
macro_rules! moment_factor {
    ($function:ident, $diagram:ident, $psi:ident, $c_m:ident) => {
        fn $function(input: &MemberInput, m: f64, trace: &mut Trace) -> Result<f64, NotChecked> {
            match Diagram::of(input, m, input.$diagram) {
                Diagram::NoneOrSway => {
                    step!(trace, Ratio, TABLE_3, "factor of the moment diagram, sway or no moment";
                        $c_m() = 0.9);
                    Ok($c_m)
                }
                Diagram::Ends => {
                    let $psi = $psi(input, trace)?;
                    step!(trace, Ratio, TABLE_3, "factor of the moment diagram";
                        $c_m($psi) = larger(0.4, 0.6 + 0.4 * $psi));
                    Ok($c_m)
                }
                Diagram::Even => {
                    step!(trace, Ratio, TABLE_3, "factor of the moment diagram, even load";
                        $c_m() = 0.95);
                    Ok($c_m)
                }
                Diagram::Middle => {
                    step!(trace, Ratio, TABLE_3, "factor of the moment diagram, load in the middle";
                        $c_m() = 0.9);
                    Ok($c_m)
                }
            }
        }
    };
}

moment_factor!(moment_factor_y, diagram_y, psi_y, c_m_y);
moment_factor!(moment_factor_z, diagram_z, psi_z, c_m_z);
