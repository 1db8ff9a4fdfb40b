//! Prying of a bolted flange: E04.

use fishplate_proto::v1;
use fishplate_tests::service;
use fishplate_tests::sheet::{Line, Sheet, assert_close};
use fishplate_tests::structure::{Structure, at_node, values};

use crate::joints::DATA;

const O: [f64; 3] = [0.0; 3];
/// Half of the pull on the flange, N.
const PULL: f64 = 20_000.0;

/// Half a flange as a beam: guided at the web, a bolt at 32 mm, an edge at 68 mm that can only
/// press.
fn flange(bolt_n_per_mm: Option<f64>) -> fishplate_tests::structure::Answer {
    let mut structure = Structure::default()
        .steel_section(values(90.0 * 12.0, 90.0 * 1728.0 / 12.0, 1e6, 1e5))
        .node("web", O)
        .node("bolt", [32.0, 0.0, 0.0])
        .node("edge", [68.0, 0.0, 0.0])
        .beam("inner", "web", "bolt")
        .beam("outer", "bolt", "edge")
        .hold("web", "xyXYZ")
        .case(at_node("LC", "web", [0.0, 0.0, PULL], O));
    let mut edge = v1::Support { node_id: "edge".to_owned(), ..Default::default() };
    edge.set_move_z(v1::SupportAction::PressesPositive);
    structure.0.supports.push(edge);
    structure = match bolt_n_per_mm {
        Some(stiffness) => structure.grounded("k", "bolt", [0.0, 0.0, stiffness]),
        None => structure.hold("bolt", "z"),
    };
    structure.solved()
}

fn prying(answer: &fishplate_tests::structure::Answer) -> f64 {
    answer.case("LC").reaction("edge").force_z_n
}

/// The bolt stiffness at which the edge just touches: halved until 1e-9 is reached.
fn opening_stiffness() -> f64 {
    let (mut open, mut closed) = (50_000.0, 400_000.0);
    for _ in 0..45 {
        let stiffness = f64::midpoint(open, closed);
        if prying(&flange(Some(stiffness))) > 0.0 {
            closed = stiffness;
        } else {
            open = stiffness;
        }
    }
    closed
}

/// The same flange, whole, by the modes of the standard: two bolts of 90.4 kN, n = e_min = 36 mm,
/// below 1.25 m.
fn t_stub() -> v1::PartRow {
    let mut stub = v1::TStubInput {
        f_t_ed_n: Some(2.0 * PULL),
        f_t_rd_sum_n: Some(2.0 * 90_400.0),
        m_mm: Some(32.0),
        e_mm: Some(36.0),
        e_min_mm: Some(36.0),
        t_mm: Some(12.0),
        f_y_mpa: Some(275.0),
        l_eff_1_mm: Some(90.0),
        l_eff_2_mm: Some(90.0),
        ..Default::default()
    };
    stub.set_prying(v1::PryingChoice::Bears);
    let request = v1::CheckBoltRequest {
        rules: Some(v1::Rules { pack: "EN 1993".to_owned(), ..Default::default() }),
        named: None,
        part: Some(v1::check_bolt_request::Part::TStub(stub)),
    };
    let answer = service::check_bolt(&request);
    let answer = answer.unwrap_or_else(|status| panic!("refused: {}", status.message()));
    let clause = "EN 1993-1-8:2005, 6.2.4 and Table 6.2";
    let row = answer.rows.into_iter().find(|row| row.clause == clause);
    row.unwrap_or_else(|| panic!("no row of {clause}"))
}

fn e04() -> Vec<Line> {
    let answer = flange(Some(400_000.0));
    let case = answer.case("LC");
    let force = prying(&answer);
    let mut sheet = Sheet::of(DATA, "E04");
    let stub = t_stub();
    let step = |symbol: &str| {
        let found = stub.derivation.iter().find(|step| step.symbol == symbol);
        found.map_or(f64::NAN, |step| step.value)
    };
    // Moments of a derivation are N m, those of the sheet N mm.
    sheet.got("M_pl,1,Rd = 0.25 l t^2 fy", step("m_pl_1") * 1e3);
    sheet.got("F_T,1,Rd = 4 Mpl/m", step("f_t_1"));
    sheet.got("F_T,2,Rd = (2Mpl + n sum Ft)/(m+n)", step("f_t_2"));
    sheet.got("F_T,3,Rd = sum Ft", step("f_t_rd_sum"));
    sheet.got("governing resistance", stub.resistance);
    sheet.got("elastic Q/V = (3m^2 n - 6EI/k)/(2n^2(3m+n)+6EI/k)", force / PULL);
    sheet.got("elastic prying force Q", force);
    sheet.got("elastic bolt force B=V+Q", -case.spring("k").force_z_n);
    let rigid = prying(&flange(None)) / PULL;
    sheet.got("rigid-bolt limit Q/V = 3m^2/(2n(3m+n))", rigid);
    let quantity = "bolt stiffness below which contact opens, k=2EI/(m^2 n)";
    sheet.got(quantity, opening_stiffness());
    let root = case.station("inner", 0.0).moment_y_nmm.abs();
    sheet.got("elastic |M| at web face", root);
    sheet.got("elastic uz of web face", case.moved("web").move_z_mm);
    sheet.lines()
}

pub(crate) fn lines() -> Vec<Line> {
    e04()
}

#[test]
fn the_plate_gives_way_first_and_the_answer_says_so() {
    let stub = t_stub();
    let of = |symbol: &str| {
        let found = stub.derivation.iter().find(|step| step.symbol == symbol);
        found.map(|step| step.value)
    };
    let (mode_1, mode_2, mode_3) = (of("f_t_1"), of("f_t_2"), of("f_t_rd_sum"));
    assert!(mode_1 < mode_2 && mode_1 < mode_3, "{stub:?}");
    assert_eq!(of("f_t_rd"), mode_1);
    assert_eq!(stub.state(), v1::State::Holds);
    assert!(stub.clause.contains("EN 1993-1-8"), "{}", stub.clause);
}

#[test]
fn a_flange_pries_on_its_bolts_as_published() {
    assert_close(&lines());
}
