//! Worked examples of the fatigue clauses.

use fishplate_quantity::{Provenance, Trace};

use crate::catalog::find_duty;
use crate::clause::input::{
    BeadBlock, BoltBlock, DetailListing, FatigueBoltInput, FatigueDetailInput, FatigueRootInput,
    HotSpotInput, ResidualStress, ShareBlock, ShearPlane, ShearReversal, StressBlock, StressPhase,
};
use crate::clause::{Applicability, Clause, NotChecked};
use crate::packs::OwnFactor;
use crate::packs::en_1993::MPA;
use crate::packs::en_1993::examples::{Example, Rules, factors, given};

use super::hot_spot::{Geometric, HotSpot};
use super::{bolt, detail, iiw_detail, root};

/// Own recomputation outside this code, by interpolation on the logarithmic curves.
const OWN: &str = "own recomputation on the curves, which are from memory of the documents";

/// A factor of 1.15 by both documents.
fn tolerant() -> Rules {
    Rules { national: Some("safe life, low consequence".to_owned()), ..Rules::RECOMMENDED }
}

fn own(symbol: &str, value: f64) -> OwnFactor {
    let provenance = Provenance::Given(format!("factors.{symbol}"));
    OwnFactor { symbol: symbol.to_owned(), value, provenance }
}

/// A longitudinal attachment over 50 to 80 mm, class 71, in five blocks of normal stress.
fn attachment() -> FatigueDetailInput {
    let block = |(range, n_e): (f64, f64)| StressBlock {
        delta_sigma: range * MPA,
        compressed: 0.0,
        delta_tau: 0.0,
        n_e,
    };
    let blocks = [(120.0, 5e3), (90.0, 4e4), (60.0, 2e5), (35.0, 1.5e6), (20.0, 1e7)];
    FatigueDetailInput {
        t: 6e-3,
        delta_sigma_c: Some(71.0 * MPA),
        delta_tau_c: Some(80.0 * MPA),
        fat_sigma: Some(71.0 * MPA),
        fat_tau: Some(80.0 * MPA),
        n_t: Some(0.3),
        f_y: Some(355.0 * MPA),
        distance: Some(200_000e3),
        residual: ResidualStress::High,
        phase: StressPhase::Apart,
        listing: DetailListing::Listed,
        blocks: blocks.map(block).to_vec(),
        origins: given(),
    }
}

/// The same with three blocks of shear stress.
fn sheared() -> FatigueDetailInput {
    let mut input = attachment();
    for (range, n_e) in [(60.0, 1e5), (40.0, 1e6), (30.0, 1e7)] {
        let delta_tau = range * MPA;
        input.blocks.push(StressBlock { delta_sigma: 0.0, compressed: 0.0, delta_tau, n_e });
    }
    input
}

/// With little stress locked in and `part` of each range in compression.
fn pressed(residual: ResidualStress, part: f64) -> FatigueDetailInput {
    let mut input = FatigueDetailInput { residual, ..attachment() };
    for block in &mut input.blocks {
        block.compressed = part * block.delta_sigma;
    }
    input
}

pub(in crate::packs::en_1993) fn fatigue_details() -> Vec<Example<FatigueDetailInput>> {
    type C = &'static dyn Clause<FatigueDetailInput>;
    let example = |clause: C, input, demand, resistance| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 1e-5,
        source: OWN,
        rules: tolerant(),
    };
    let low = || pressed(ResidualStress::Low, 0.5);
    let part = |residual| pressed(residual, 0.3);
    let thick = FatigueDetailInput { t: 0.04, ..attachment() };
    let pure_shear = FatigueDetailInput { blocks: sheared().blocks[5..].to_vec(), ..attachment() };
    vec![
        example(&detail::NormalDamage, attachment(), 0.252_987, 1.0),
        example(&detail::NormalRange, attachment(), 39.047_5 * MPA, 61.739_1 * MPA),
        example(&detail::NormalDamage, low(), 0.114_620, 1.0),
        example(&detail::NormalRange, low(), 29.990_25 * MPA, 61.739_1 * MPA),
        example(&detail::ShearDamage, sheared(), 0.055_292_7, 1.0),
        example(&detail::ShearDamage, pure_shear, 0.055_292_7, 1.0),
        example(&detail::ShearRange, sheared(), 38.987_5 * MPA, 69.565_2 * MPA),
        example(&detail::BothDamage, sheared(), 0.308_279, 1.0),
        // 120 MPa against 1.5 355; √3 60 = 103.9 MPa is less.
        example(&detail::ElasticRange, sheared(), 120.0 * MPA, 532.5 * MPA),
        example(&iiw_detail::NormalDamage, attachment(), 0.352_656, 0.5),
        example(&iiw_detail::NormalDamage, low(), 0.059_235_4, 0.5),
        example(&iiw_detail::NormalDamage, part(ResidualStress::Low), 0.103_938, 0.5),
        example(&iiw_detail::NormalDamage, part(ResidualStress::Medium), 0.267_802, 0.5),
        example(&iiw_detail::NormalDamage, thick, 0.576_857, 0.5),
        example(&iiw_detail::ShearDamage, sheared(), 0.114_273, 0.5),
        example(&iiw_detail::Both, sheared(), 1.346_46, 0.5),
        example(
            &iiw_detail::Both,
            FatigueDetailInput { phase: StressPhase::Together, ..sheared() },
            1.346_46,
            1.0,
        ),
    ]
}

pub(in crate::packs::en_1993) fn fatigue_roots() -> Vec<Example<FatigueRootInput>> {
    // Fillet 5 mm: a = 3.5355 mm; sigma_wf = √(100² + 50²) / a = 31.62 MPa, tau_wf = 22.63 MPa.
    let block = |share: f64, n_e| BeadBlock {
        delta_q_1: share * 100e3,
        delta_q_2: share * 50e3,
        delta_q_l: share * 80e3,
        n_e,
    };
    let bead = || FatigueRootInput {
        z: 5e-3,
        gap: 0.0,
        delta_sigma_c: Some(36.0 * MPA),
        delta_tau_c: Some(80.0 * MPA),
        fat_sigma: Some(36.0 * MPA),
        fat_tau: Some(80.0 * MPA),
        distance: Some(200_000e3),
        phase: StressPhase::Together,
        blocks: vec![block(1.0, 3e5), block(0.5, 2e6)],
        origins: given(),
    };
    let example = |clause: &'static dyn Clause<FatigueRootInput>, input, demand| Example {
        clause,
        input,
        demand,
        resistance: 1.0,
        tolerance: 1e-5,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    // A gap of 0.5 mm under a fillet of 5.5 mm leaves the same throat.
    let gap = FatigueRootInput { z: 5.5e-3, gap: 0.5e-3, ..bead() };
    vec![
        example(&root::Root, bead(), 0.385_131),
        example(&root::Root, gap, 0.385_131),
        example(&root::RootIiw, bead(), 1.092_556),
    ]
}

pub(in crate::packs::en_1993) fn fatigue_bolts() -> Vec<Example<FatigueBoltInput>> {
    // M12, preload 30 kN, a quarter of the pull: opens at 40 kN.
    let block = |pull: f64, shear: f64, n_e: f64| BoltBlock {
        delta_f_t: pull,
        f_t_min: 0.0,
        delta_f_v: shear,
        n_e,
    };
    let bolt = || FatigueBoltInput {
        d: 12e-3,
        a_s: 84.3e-6,
        a_shank: Some(113.1e-6),
        f_v_min: Some(30e3),
        phi: Some(0.25),
        distance: Some(200_000e3),
        plane: ShearPlane::Shank,
        reversal: ShearReversal::None,
        blocks: vec![block(12e3, 8e3, 1e6), block(60e3, 0.0, 100.0)],
        origins: given(),
    };
    let example =
        |clause: &'static dyn Clause<FatigueBoltInput>, input, demand, resistance| Example {
            clause,
            input,
            demand,
            resistance,
            tolerance: 1e-5,
            source: OWN,
            rules: Rules::RECOMMENDED,
        };
    let loose = FatigueBoltInput { f_v_min: None, phi: None, ..bolt() };
    let large = FatigueBoltInput {
        d: 36e-3,
        a_s: 817e-6,
        f_v_min: None,
        phi: None,
        blocks: vec![block(9e3, 0.0, 1e7), block(20e3, 0.0, 1e6)],
        ..bolt()
    };
    let closed = FatigueBoltInput { blocks: vec![block(12e3, 0.0, 1e6)], ..bolt() };
    vec![
        // Closed 0.25 12 = 3 kN, 35.6 MPa; open 60 - 30 = 30 kN, 355.9 MPa.
        example(&bolt::Tension, bolt(), 0.487_905, 1.0),
        example(&bolt::Tension, loose, 28.742_02, 1.0),
        // 50 (30/36)^0.25 = 47.77; 11.0 MPa lies below the cut-off of 14.3 MPa.
        example(&bolt::Tension, large, 0.145_914, 1.0),
        // 35.587 / 2 against 0.85 (150/12 + 45) / 1.2.
        example(&bolt::Endurance, closed, 17.793_6 * MPA, 40.729_2 * MPA),
        example(&bolt::ShankShear, bolt(), 0.396_987, 1.0),
    ]
}

pub(in crate::packs::en_1993) fn hot_spots() -> Vec<Example<HotSpotInput>> {
    // Surface stress 80 + 95 exp(-x / 2.2 mm) MPa before the toe, t = 6 mm.
    let stress = |mpa: f64| Some(mpa * MPA);
    let toe = || HotSpotInput {
        t: 6e-3,
        fat_hs: 90.0 * MPA,
        sigma_04: stress(111.911_543),
        sigma_05: stress(104.294_270),
        sigma_09: stress(88.160_712),
        sigma_10: stress(86.212_753),
        sigma_14: stress(82.086_932),
        sigma_15: stress(81.588_782),
        sigma_4mm: stress(95.420_458),
        sigma_8mm: stress(82.503_058),
        sigma_12mm: stress(80.406_298),
        n_t: None,
        distance: Some(200_000e3),
        blocks: vec![ShareBlock { share: 1.0, n_e: 1e5 }, ShareBlock { share: 0.5, n_e: 2e6 }],
        origins: given(),
    };
    // The curves as they are: no factor, a sum of 1.
    let bare =
        || Rules { own: vec![own("gamma_m_iiw", 1.0), own("d_iiw", 1.0)], ..Rules::RECOMMENDED };
    let example = |clause: &'static dyn Clause<HotSpotInput>, input, demand| Example {
        clause,
        input,
        demand,
        resistance: 1.0,
        tolerance: 1e-5,
        source: OWN,
        rules: bare(),
    };
    // 129.13 MPa fails after 677 140 cycles by FAT 90 and after 928 862 by FAT 100.
    let once = |n_e| vec![ShareBlock { share: 1.0, n_e }];
    let carries = HotSpotInput { blocks: once(677_140.0), ..toe() };
    let linear_only = HotSpotInput { sigma_05: None, sigma_09: None, sigma_4mm: None, ..toe() };
    let free = HotSpotInput { blocks: once(928_862.0), fat_hs: 100.0 * MPA, ..toe() };
    vec![
        example(&HotSpot::Linear, carries, 1.0),
        example(&HotSpot::Linear, free, 1.0),
        example(&HotSpot::Linear, toe(), 0.516_879),
        example(&HotSpot::Quadratic, toe(), 0.711_433),
        example(&HotSpot::Coarse, toe(), 0.371_290),
        example(&HotSpot::Edge, toe(), 0.406_149),
        // The quadratic one governs: 143.64 MPa, half of it above the limit of 90 · 0.737 / 1.35.
        example(&Geometric, toe(), 1.750391),
        example(&Geometric, linear_only, 1.271717),
    ]
}

fn not_checked<I: crate::clause::Input>(clause: &'static dyn Clause<I>, input: &I) -> NotChecked {
    let got = clause.evaluate(input, &factors(), &mut Trace::off());
    got.expect_err("this must not be checked")
}

#[test]
fn a_stress_that_acts_without_a_class_is_missing_and_never_passed() {
    let input = FatigueDetailInput { delta_tau_c: None, fat_tau: None, ..sheared() };
    for clause in [&detail::ShearDamage as &'static dyn Clause<_>, &detail::BothDamage] {
        let missing = not_checked(clause, &input);
        assert!(matches!(missing, NotChecked::Missing { symbol: "delta_tau_c", .. }), "{missing}");
    }
    let missing = not_checked(&iiw_detail::Both, &input);
    assert!(matches!(missing, NotChecked::Missing { symbol: "fat_tau", .. }), "{missing}");
}

#[test]
fn a_detail_no_document_lists_is_shown_outside_the_scope() {
    let input = FatigueDetailInput { listing: DetailListing::NotListed, ..attachment() };
    let scope = detail::NormalDamage.applies(&input);
    assert!(matches!(scope, Applicability::OutsideScope(_)), "{scope:?}");
}

#[test]
fn more_pressing_than_the_range_is_refused() {
    let input = pressed(ResidualStress::Low, 1.1);
    let refused = not_checked(&detail::NormalDamage, &input);
    assert!(matches!(refused, NotChecked::OutOfRange { symbol: "compressed", .. }), "{refused}");
}

#[test]
fn shear_across_threads_or_to_and_fro_has_no_rule() {
    let bolt = || fatigue_bolts().swap_remove(0).input;
    let threads = FatigueBoltInput { plane: ShearPlane::Threads, ..bolt() };
    let to_and_fro = FatigueBoltInput { reversal: ShearReversal::Reverses, ..bolt() };
    for input in [threads, to_and_fro] {
        let refused = not_checked(&bolt::ShankShear, &input);
        assert!(matches!(refused, NotChecked::NoRule { .. }), "{refused}");
    }
}

/// The straight slope of 3 alone, as assumed duties are often judged, against the curve with its
/// knee and cut-off: the many small cycles drop out.
#[test]
fn an_assumed_duty_becomes_a_spectrum() {
    let duty = find_duty("vertical").unwrap().duty;
    let block = |(delta_sigma, n_e): (f64, f64)| StressBlock {
        delta_sigma,
        compressed: 0.0,
        delta_tau: 0.0,
        n_e,
    };
    let blocks = duty.over(100.0 * MPA, 200_000e3).map(block).collect();
    let input = FatigueDetailInput { blocks, ..attachment() };
    let factors = crate::packs::en_1993::PACK.factors(&tolerant()).unwrap();
    let got = detail::NormalDamage.evaluate(&input, &factors, &mut Trace::off()).unwrap();
    // 61.74 at 2 million: 100, 75, 50 MPa above 45.49, 30 MPa above 24.99, 15 MPa below.
    let expected = 0.0350183;
    assert!((got.demand / expected - 1.0).abs() < 1e-5, "{}", got.demand);
    let straight: f64 = duty
        .over(100.0, 200_000e3)
        .map(|(range, n_e)| n_e / 2e6 * (range / 61.739_13).powi(3))
        .sum();
    assert!(straight > 2.0 * got.demand);
}
