//! Worked examples of the member clauses.

use crate::clause::Clause;
use crate::clause::input::{
    AngleStrutInput, BucklingCurve, ElementHeld, ElementInput, EndsSway, MemberInput,
    MomentDiagram, Shape, StressPointInput, ThinBoxInput,
};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::thin_examples::WALLS;
use super::{
    angle_strut, beam_column_a, beam_column_b, buckling, class, effective, lateral, section,
    shear_buckling, stress_point, torsional,
};

const MM: f64 = 1e-3;
const MM2: f64 = 1e-6;
const MM3: f64 = 1e-9;
const MM4: f64 = 1e-12;
const MPA: f64 = 1e6;

/// RHS 80 x 40 x 4 cold formed, S355 (EN 10219-2 section values).
fn rectangular_80x40x4() -> MemberInput {
    MemberInput {
        n_ed: 40e3,
        v_y_ed: 0.0,
        v_z_ed: 0.0,
        m_y_ed: 2600.0,
        m_z_ed: 0.0,
        t_ed: 600.0,
        h: 80.0 * MM,
        b: 40.0 * MM,
        t: 4.0 * MM,
        a: 854.8 * MM2,
        a_v_y: 284.9 * MM2,
        a_v_z: 569.9 * MM2,
        i_y: 647_930.0 * MM4,
        i_z: 214_850.0 * MM4,
        i_t: 552_436.0 * MM4,
        w_el_y: 16_198.0 * MM3,
        w_el_z: 10_743.0 * MM3,
        f_y: 355.0 * MPA,
        w_pl_y: Some(20_911.0 * MM3),
        w_pl_z: Some(12_775.0 * MM3),
        c_t: Some(18_844.0 * MM3),
        l_cr_y: Some(1.0),
        l_cr_z: Some(1.0),
        l_lt: None,
        c_1: None,
        psi_y: Some(1.0),
        psi_z: Some(1.0),
        l_cr_t: None,
        i_w: None,
        y_0: None,
        z_0: None,
        c_2: None,
        z_g: None,
        omega: None,
        b_ed: None,
        tau_w: None,
        r_0: None,
        r_z: None,
        beta_w: None,
        f_u: None,
        a_net: None,
        u_lag: None,
        a_fg: None,
        a_fn: None,
        shape: Shape::RectangularTube,
        curve: BucklingCurve::C,
        ends: EndsSway::Held,
        diagram_y: MomentDiagram::EndMoments,
        diagram_z: MomentDiagram::EndMoments,
        origins: given(),
    }
}

/// SHS 50 x 50 x 3 cold formed, S355, 1.2 m between hinges, compression only.
pub(super) fn square_50x3() -> MemberInput {
    MemberInput {
        n_ed: -50e3,
        m_y_ed: 0.0,
        t_ed: 0.0,
        h: 50.0 * MM,
        b: 50.0 * MM,
        t: 3.0 * MM,
        a: 540.82 * MM2,
        i_y: 194_671.0 * MM4,
        i_z: 194_671.0 * MM4,
        w_el_y: 7787.0 * MM3,
        w_el_z: 7787.0 * MM3,
        w_pl_y: Some(9388.0 * MM3),
        w_pl_z: Some(9388.0 * MM3),
        l_cr_y: Some(1.2),
        l_cr_z: Some(1.2),
        ..rectangular_80x40x4()
    }
}

/// SHS 60 x 60 x 4 cold formed, S355, 1.5 m, 80 kN compression with 3.0 kN m.
pub(super) fn square_60x4() -> MemberInput {
    MemberInput {
        n_ed: -80e3,
        m_y_ed: 3000.0,
        h: 60.0 * MM,
        b: 60.0 * MM,
        t: 4.0 * MM,
        a: 854.8 * MM2,
        i_y: 435_510.0 * MM4,
        i_z: 435_510.0 * MM4,
        w_el_y: 14_517.0 * MM3,
        w_el_z: 14_517.0 * MM3,
        w_pl_y: Some(17_643.0 * MM3),
        w_pl_z: Some(17_643.0 * MM3),
        l_cr_y: Some(1.5),
        l_cr_z: Some(1.5),
        ..square_50x3()
    }
}

/// CHS 244.5 x 10 hot finished, S355, 4 m.
fn round_tube() -> MemberInput {
    MemberInput {
        n_ed: -1630e3,
        h: 244.5 * MM,
        b: 244.5 * MM,
        t: 10.0 * MM,
        a: 7370.0 * MM2,
        i_y: 50.73e6 * MM4,
        i_z: 50.73e6 * MM4,
        l_cr_y: Some(4.0),
        l_cr_z: Some(4.0),
        shape: Shape::RoundTube,
        curve: BucklingCurve::A,
        ..square_50x3()
    }
}

/// Flat 100 x 10 on edge, S235, 2 m between supports.
fn flat_on_edge() -> MemberInput {
    MemberInput {
        n_ed: 0.0,
        m_y_ed: 1000.0,
        h: 100.0 * MM,
        b: 10.0 * MM,
        t: 10.0 * MM,
        a: 1000.0 * MM2,
        a_v_y: 1000.0 * MM2,
        a_v_z: 1000.0 * MM2,
        i_y: 833_333.0 * MM4,
        i_z: 8333.33 * MM4,
        // h t³ / 3 (1 - 0.63 t / h).
        i_t: 31_233.3 * MM4,
        w_el_y: 16_666.7 * MM3,
        w_el_z: 1666.67 * MM3,
        w_pl_y: Some(25_000.0 * MM3),
        w_pl_z: Some(2500.0 * MM3),
        c_t: None,
        f_y: 235.0 * MPA,
        l_lt: Some(2.0),
        c_1: Some(1.0),
        shape: Shape::Rectangle,
        curve: BucklingCurve::C,
        ..square_50x3()
    }
}

/// Box of class 4, midline 100 x 60, wall 1.2, yield strength 180 MPa, 1 m, 20 kN compression.
fn thin_box(m_y_ed: f64, m_z_ed: f64) -> MemberInput {
    MemberInput {
        n_ed: -20e3,
        m_y_ed,
        m_z_ed,
        h: 101.2 * MM,
        b: 61.2 * MM,
        t: 1.2 * MM,
        a: 384.0 * MM2,
        i_y: 560_000.0 * MM4,
        i_z: 259_200.0 * MM4,
        w_el_y: 11_200.0 * MM3,
        w_el_z: 8640.0 * MM3,
        w_pl_y: None,
        w_pl_z: None,
        f_y: 180.0 * MPA,
        l_cr_y: Some(1.0),
        l_cr_z: Some(1.0),
        ..square_50x3()
    }
}

/// Channel of class 4, midline 100 x 50, wall 1.5, yield strength 250 MPa.
fn thin_channel() -> MemberInput {
    MemberInput {
        n_ed: -12e3,
        m_y_ed: 600.0,
        m_z_ed: 100.0,
        h: 101.5 * MM,
        b: 50.75 * MM,
        t: 1.5 * MM,
        a: 300.0 * MM2,
        w_el_y: 10_000.0 * MM3,
        w_el_z: 2083.333 * MM3,
        f_y: 250.0 * MPA,
        shape: Shape::Channel,
        ..thin_box(0.0, 0.0)
    }
}

/// Channel 100 x 50 x 3, S235, 1.5 m, by its midline 97 x 48.5.
fn open_channel() -> MemberInput {
    MemberInput {
        n_ed: -50e3,
        h: 100.0 * MM,
        b: 50.0 * MM,
        t: 3.0 * MM,
        a: 582.0 * MM2,
        i_y: 912_673.0 * MM4,
        i_z: 142_605.0 * MM4,
        i_t: 1746.0 * MM4,
        i_w: Some(234_810_085.0e-18),
        y_0: Some(-30.3125 * MM),
        f_y: 235.0 * MPA,
        l_cr_y: Some(1.5),
        l_cr_z: Some(1.5),
        l_cr_t: Some(1.5),
        shape: Shape::Channel,
        ..square_50x3()
    }
}

/// I welded from plates of 6 mm, 160 x 80, S235, 2 m, 100 kN with moments about both axes.
fn welded_i() -> MemberInput {
    MemberInput {
        n_ed: -100e3,
        m_y_ed: 5000.0,
        m_z_ed: 400.0,
        h: 160.0 * MM,
        b: 80.0 * MM,
        t: 6.0 * MM,
        a: 1848.0 * MM2,
        a_v_y: 960.0 * MM2,
        a_v_z: 888.0 * MM2,
        i_y: 7_315_616.0 * MM4,
        i_z: 514_664.0 * MM4,
        i_t: 22_176.0 * MM4,
        i_w: Some(3_051_442_856.0e-18),
        w_el_y: 91_445.2 * MM3,
        w_el_z: 12_866.6 * MM3,
        w_pl_y: Some(106_776.0 * MM3),
        w_pl_z: Some(20_532.0 * MM3),
        f_y: 235.0 * MPA,
        l_cr_y: Some(2.0),
        l_cr_z: Some(2.0),
        l_cr_t: Some(2.0),
        l_lt: Some(2.0),
        c_1: Some(1.0),
        shape: Shape::WeldedI,
        ..square_50x3()
    }
}

struct Row(&'static dyn Clause<MemberInput>, MemberInput, f64, f64, f64, &'static str);

pub(in crate::packs::en_1993) fn members() -> Vec<Example<MemberInput>> {
    let designers = "Gardner and Nethercot, Designers' Guide to EN 1993-1-1, Example 6.7 (from \
                     memory)";
    let sheared = MemberInput { v_z_ed: 12e3, ..rectangular_80x40x4() };
    let twisted_flat = MemberInput { t_ed: 50.0, ..flat_on_edge() };
    let flat_pulled = MemberInput { n_ed: 117_500.0, m_y_ed: 4000.0, ..flat_on_edge() };
    let biaxial = MemberInput {
        m_y_ed: 3711.7,
        m_z_ed: 2267.6,
        n_ed: 0.0,
        t_ed: 0.0,
        ..rectangular_80x40x4()
    };
    let channel = MemberInput {
        shape: Shape::Channel,
        h: 100.0 * MM,
        b: 45.0 * MM,
        t: 3.0 * MM,
        f_y: 235.0 * MPA,
        n_ed: 0.0,
        ..square_60x4()
    };
    let angle = MemberInput {
        shape: Shape::Angle,
        h: 80.0 * MM,
        b: 80.0 * MM,
        t: 8.0 * MM,
        f_y: 275.0 * MPA,
        ..square_60x4()
    };
    let high_shear = MemberInput { v_z_ed: 0.75 * 116_800.0, t_ed: 0.0, ..rectangular_80x40x4() };
    let box_bent = MemberInput { n_ed: 0.0, ..thin_box(300.0, 0.0) };
    let restrained = MemberInput {
        b_ed: Some(2.0),
        omega: Some(5e-4),
        i_w: Some(1e-10),
        ..rectangular_80x40x4()
    };
    let twisted_i = MemberInput { v_z_ed: 20e3, t_ed: 4.4, tau_w: Some(5.0 * MPA), ..welded_i() };
    let pulled_i =
        MemberInput { n_ed: 0.3 * 1848.0 * 235.0, m_y_ed: 10e3, m_z_ed: 0.0, ..welded_i() };
    let thin_webs = MemberInput {
        v_z_ed: 12e3,
        m_y_ed: 1000.0,
        h: 140.9 * MM,
        b: 60.9 * MM,
        t: 0.9 * MM,
        f_y: 250.0 * MPA,
        n_ed: 0.0,
        ..thin_box(0.0, 0.0)
    };
    let loaded_on_top = MemberInput {
        c_1: Some(1.13),
        c_2: Some(0.45),
        z_g: Some(80.0 * MM),
        diagram_y: MomentDiagram::EvenLoad,
        ..welded_i()
    };
    let biaxial_60x4 = MemberInput { m_z_ed: 1000.0, psi_z: Some(0.0), ..square_60x4() };
    let rows = vec![
        // (80 - 12) / 4 = 17 over 124 eps bent, (40 - 12) / 4 = 7 over 42 eps = 34.17.
        Row(
            &class::WallsThickEnough,
            MemberInput { n_ed: 0.0, ..rectangular_80x40x4() },
            7.0 / 34.172,
            1.0,
            1e-4,
            OWN,
        ),
        // 41 / 3 over 42 eps.
        Row(&class::WallsThickEnough, square_50x3(), 13.6667 / 34.172, 1.0, 1e-4, OWN),
        Row(&class::WallsThickEnough, round_tube(), 24.45 / (90.0 * 235.0 / 355.0), 1.0, 1e-4, OWN),
        // Flange (45 - 3) / 3 = 14, just class 3.
        Row(&class::WallsThickEnough, channel, 1.0, 1.0, 1e-9, OWN),
        // 80 / 8 = 10 over 15 eps and 10 over 11.5 eps, eps = 0.92442.
        Row(&class::WallsThickEnough, angle, 10.0 / (11.5 * 0.924_42), 1.0, 1e-4, OWN),
        // 854.8 355.
        Row(&section::Axial, rectangular_80x40x4(), 40e3, 303_454.0, 1e-4, OWN),
        Row(&section::Shear, sheared.clone(), 12e3, 98_650.0, 1e-3, OWN),
        Row(&section::Torsion, rectangular_80x40x4(), 31.84e6, 204.96e6, 2e-4, OWN),
        // 50 10 / 31 233.3 of a flat.
        // 16 50 / (π 20³) of a round bar of 20.
        Row(
            &section::Torsion,
            MemberInput {
                shape: Shape::RoundBar,
                h: 20.0 * MM,
                b: 20.0 * MM,
                t: 20.0 * MM,
                c_t: Some(1570.8 * MM3),
                ..twisted_flat.clone()
            },
            31.831e6,
            135.677e6,
            1e-4,
            OWN,
        ),
        Row(&section::Torsion, twisted_flat, 16.009e6, 135.677e6, 1e-4, OWN),
        Row(&section::Elastic, rectangular_80x40x4(), 214.52e6, 355e6, 1e-4, OWN),
        // 31.84 + 12 000 / 569.9 = 52.896: √(207.31² + 3 52.896²).
        Row(&section::Elastic, sheared.clone(), 226.65e6, 355e6, 1e-3, OWN),
        Row(&section::Plastic, sheared, 0.3502, 1.0, 2e-4, OWN),
        // Half of both plastic moments: 0.5 2^(1 / 1.66) = 0.75913.
        Row(&section::Plastic, biaxial, 0.759_13, 1.0, 1e-4, OWN),
        // n = 0.5 leaves 1 - n² = 0.75 of 5.875 kN m.
        Row(&section::Plastic, flat_pulled, 4000.0 / (0.75 * 5875.0), 1.0, 1e-4, OWN),
        // V / Vpl = 0.75: rho = 0.25; n = 40 / 227.59 = 0.17576; MN = Mpl; 0.75 7423.4 = 5567.6.
        Row(&section::Plastic, high_shear, 2600.0 / 5567.6, 1.0, 2e-4, OWN),
        // The bent box of class 4 by its effective section.
        Row(&section::Axial, thin_box(0.0, 0.0), 20e3, 51_917.0, 1e-4, OWN),
        Row(&section::Elastic, box_bent.clone(), 300.0 / 10_785.9e-9, 180e6, 1e-4, OWN),
        Row(
            &section::Elastic,
            thin_channel(),
            (12e3 / 174.366 + 600e3 / 3194.54 + (100e3 + 12e3 * 7.409_53) / 467.109) * MPA,
            250e6,
            1e-4,
            WALLS,
        ),
        // B omega / Iw = 2 5e-4 / 1e-10 = 10 MPa on 207.31: √(217.31² + 3 31.84²).
        Row(&section::Elastic, restrained, 224.20e6, 355e6, 2e-4, OWN),
        // 4.4 N m 6 / 22 176 = 1.1905 MPa; τ of 235 / √3 = 135.677:
        // √(1 - 1.1905 / 169.596) 135.677 - 5 = 130.200.
        Row(&section::Shear, twisted_i, 20e3, 130.200 * 888.0, 1e-4, OWN),
        // n = 0.3 leaves (1 - 0.3) / (1 - 0.5 0.48052) = 0.92137 of 25 092.4 N m.
        Row(&section::Plastic, pulled_i, 10e3 / 23_119.5, 1.0, 1e-4, OWN),
        // Clear web 139.1 / 0.9 = 154.6: lambda 1.8445, chi 0.44999, two webs.
        Row(&shear_buckling::ShearBuckling, thin_webs.clone(), 12e3, 16_262.2, 1e-4, OWN),
        // eta3 = 0.73791; flanges 30.9 0.9 140 250 = 973.35, plastic 3150.1 N m:
        // 3150.1 - 2176.8 0.22640.
        Row(
            &shear_buckling::BendingBesideShearBuckling,
            MemberInput { b: 30.9 * MM, w_pl_y: Some(12600.4 * MM3), ..thin_webs },
            1000.0,
            2657.3,
            1e-4,
            OWN,
        ),
        Row(&buckling::Flexural, square_50x3(), 50e3, 123_782.0, 1e-4, OWN),
        Row(&buckling::Flexural, thin_box(0.0, 0.0), 20e3, 48_988.0, 1e-4, OWN),
        Row(&buckling::Flexural, round_tube(), 1630e3, 2297e3, 3e-3, designers),
        // Mcr = π / 2 √(210 8333.33 80.769 31 233.3) = 3300.4 N m, lambda 1.3342, chi 0.32675.
        Row(&lateral::LateralTorsional, flat_on_edge(), 1000.0, 1919.68, 1e-3, OWN),
        // Mcr = 29.988 kN m, lambda 0.91473, curve c.
        Row(&lateral::LateralTorsional, welded_i(), 5000.0, 14_824.7, 1e-4, OWN),
        // Even load on top, C1 = 1.13, C2 = 0.45, 80 mm above: Mcr = 24.733 kN m.
        Row(&lateral::LateralTorsional, loaded_on_top.clone(), 5000.0, 13_443.1, 1e-4, OWN),
        Row(&lateral::LateralOfI, welded_i(), 5000.0, 17_356.7, 1e-4, OWN),
        Row(&lateral::LateralOfI, loaded_on_top, 5000.0, 16_375.7, 1e-4, OWN),
        // Ny 840.72, Nz 131.36, NT 130.79, with bending 123.62 kN; class 4, 553.62 mm² carry.
        Row(&torsional::Torsional, open_channel(), 50e3, 68_312.5, 1e-4, OWN),
        // Shear centre off both axes: 88.123 kN, found by stepping along the cubic.
        Row(
            &torsional::Torsional,
            MemberInput { z_0: Some(20.0 * MM), ..open_channel() },
            50e3,
            55_507.2,
            1e-4,
            OWN,
        ),
        // NT = 795.88 kN, above Nz = 266.68.
        Row(&torsional::Torsional, welded_i(), 100e3, 173_299.9, 1e-4, OWN),
        Row(&beam_column_b::BeamColumnB, square_60x4(), 1.0419, 1.0, 1e-4, OWN),
        Row(&beam_column_b::BeamColumnB, biaxial_60x4.clone(), 1.115_80, 1.0, 1e-4, OWN),
        Row(&beam_column_b::BeamColumnB, welded_i(), 1.038_23, 1.0, 1e-4, OWN),
        Row(&beam_column_b::BeamColumnB, thin_box(300.0, 100.0), 0.642_96, 1.0, 1e-4, OWN),
        Row(&beam_column_a::BeamColumnA, square_60x4(), 1.010_54, 1.0, 1e-4, OWN),
        Row(&beam_column_a::BeamColumnA, biaxial_60x4, 1.095_95, 1.0, 1e-4, OWN),
        Row(&beam_column_a::BeamColumnA, welded_i(), 0.988_01, 1.0, 1e-4, OWN),
        Row(&beam_column_a::BeamColumnA, thin_box(300.0, 100.0), 0.656_50, 1.0, 1e-4, OWN),
    ];
    rows.into_iter()
        .map(|Row(clause, input, demand, resistance, tolerance, source)| Example {
            clause,
            input,
            demand,
            resistance,
            tolerance,
            source,
            rules: Rules::RECOMMENDED,
        })
        .collect()
}

pub(in crate::packs::en_1993) fn angle_struts() -> Vec<Example<AngleStrutInput>> {
    vec![Example {
        clause: &angle_strut::AngleStrut,
        // L 50 x 50 x 5, S235, 1 m (EN 10056-1 section values).
        input: AngleStrutInput {
            n_ed: 20e3,
            l: 1.0,
            a: 480.3 * MM2,
            i_u: 173_820.0 * MM4,
            i_v: 45_470.0 * MM4,
            i_y: 109_640.0 * MM4,
            h: 50.0 * MM,
            b: 50.0 * MM,
            t: 5.0 * MM,
            f_y: 235.0 * MPA,
            b_joined: None,
            origins: given(),
        },
        demand: 20e3,
        resistance: 59_334.8,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    }]
}

pub(in crate::packs::en_1993) fn stress_points() -> Vec<Example<StressPointInput>> {
    // L 75 x 50 x 6 as a cantilever of 220 under 1.2 kN: M = 264 N m, compression below.
    let angle = |x: f64, y: f64| StressPointInput {
        n_ed: 0.0,
        m_x: 264.0,
        m_y: 0.0,
        a: 719.3 * MM2,
        i_x: 405_360.0 * MM4,
        i_y: 144_433.0 * MM4,
        i_xy: -139_907.0 * MM4,
        x: (x - 12.066) * MM,
        y: (y - 24.383) * MM,
        tau_ed: 0.0,
        f_y: 275.0 * MPA,
        t_ed: None,
        l_t: None,
        i_t: None,
        i_w: None,
        omega: None,
        f_n_a: None,
        f_n_x: None,
        f_n_y: None,
        origins: given(),
    };
    // The same bending with restrained torsion; k L = 0.05 √(1e-9 / (2.6 1e-10)) = 0.098.
    let twisted = StressPointInput {
        t_ed: Some(200.0),
        l_t: Some(0.05),
        i_t: Some(1e-9),
        i_w: Some(1e-10),
        omega: Some(-1e-3),
        tau_ed: 20.0 * MPA,
        ..angle(0.0, 0.0)
    };
    let example = |input, demand: f64, tolerance: f64| Example {
        clause: &stress_point::FirstYield as &'static dyn Clause<StressPointInput>,
        input,
        demand,
        resistance: 275e6,
        tolerance,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    vec![
        example(angle(0.0, 0.0), 35.29e6, 3e-4),
        example(angle(0.0, 75.0), 38.09e6, 3e-4),
        // Where the toe radius of 3.5 ends on the inner face.
        example(angle(6.0, 71.5), 40.35e6, 3e-4),
        example(angle(50.0, 0.0), 12.09e6, 1e-3),
        // 200 0.05 = 10 N m²; 10 1e-3 / 1e-10 = 100 MPa; √(135.29² + 3 20²) = 139.66.
        example(twisted, 139.66e6, 3e-4),
    ]
}

pub(in crate::packs::en_1993) fn thin_boxes() -> Vec<Example<ThinBoxInput>> {
    let box_100 = |n_ed: f64, m_ed: f64| ThinBoxInput {
        n_ed,
        m_ed,
        h: 100.0 * MM,
        b: 60.0 * MM,
        t: 1.2 * MM,
        f_y: 180.0 * MPA,
        origins: given(),
    };
    let box_140 = |n_ed: f64, m_ed: f64| ThinBoxInput {
        h: 140.0 * MM,
        t: 0.9 * MM,
        f_y: 250.0 * MPA,
        ..box_100(n_ed, m_ed)
    };
    let example = |input, demand: f64, resistance: f64| Example {
        clause: &effective::ThinBox as &'static dyn Clause<ThinBoxInput>,
        input,
        demand,
        resistance,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    vec![
        example(box_100(10e3, 0.0), 10e3, 51_917.0),
        example(box_100(0.0, 500.0), 500.0, 1941.5),
        example(box_140(10e3, 0.0), 10e3, 38_816.0),
        example(box_140(0.0, 500.0), 500.0, 2416.3),
        example(box_140(10e3, 500.0), 10e3 / 38_816.0 + 500.0 / 2416.3, 1.0),
    ]
}

pub(in crate::packs::en_1993) fn elements() -> Vec<Example<ElementInput>> {
    let outstand = || ElementInput {
        sigma_ed: 100e6,
        b: 60.0 * MM,
        t: 3.0 * MM,
        psi: 1.0,
        f_y: 235.0 * MPA,
        held: ElementHeld::OneEdge,
        origins: given(),
    };
    // The walls of a published lipped channel: core 1.96, 350 MPa.
    let wall = |b: f64| ElementInput {
        b: b * MM,
        t: 1.96 * MM,
        f_y: 350.0 * MPA,
        held: ElementHeld::BothEdges,
        ..outstand()
    };
    let both_held = ElementInput { held: ElementHeld::BothEdges, ..outstand() };
    let bent = ElementInput { psi: -1.0, ..wall(198.0) };
    let published = "Access Steel SX023a, element widths (from memory)";
    let effective: &'static dyn Clause<ElementInput> = &effective::EffectiveWidth;
    let critical: &'static dyn Clause<ElementInput> = &effective::CriticalStress;
    [
        (effective, outstand(), 0.7682 * 235e6, 1e-4, OWN),
        (critical, outstand(), 204.04e6, 1e-4, OWN),
        (critical, both_held, 1898.0e6, 1e-4, OWN),
        (effective, wall(72.0), 0.914 * 350e6, 2e-3, published),
        (effective, wall(64.0), 0.978 * 350e6, 2e-3, published),
        (effective, wall(198.0), 0.414 * 350e6, 2e-3, published),
        // k = 7.81 + 6.29 + 9.78 = 23.88; 101.02 / (28.4 0.81941 √23.88) = 0.88833, just above
        // 0.87417: (0.88833 - 0.11) / 0.88833² = 0.98632.
        (effective, bent, 345.210e6, 1e-3, OWN),
    ]
    .into_iter()
    .map(|(clause, input, resistance, tolerance, source)| Example {
        clause,
        input,
        demand: 100e6,
        resistance,
        tolerance,
        source,
        rules: Rules::RECOMMENDED,
    })
    .collect()
}
