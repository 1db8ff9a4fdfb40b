//! Single parts that cannot be checked.

use fishplate_proto::v1;
use fishplate_proto::v1::check_bolt_request::Part;
use fishplate_proto::v1::{CheckBoltRequest, TStubInput};
use fishplate_tests::service;

use crate::input::{Bad, assert_refused};

fn good() -> CheckBoltRequest {
    let mut stub = TStubInput {
        f_t_ed_n: Some(10_000.0),
        f_t_rd_sum_n: Some(180_800.0),
        m_mm: Some(32.0),
        e_mm: Some(36.0),
        e_min_mm: Some(36.0),
        t_mm: Some(12.0),
        f_y_mpa: Some(275.0),
        ..Default::default()
    };
    stub.set_prying(v1::PryingChoice::Bears);
    CheckBoltRequest {
        rules: Some(v1::Rules { pack: "EN 1993".to_owned(), ..Default::default() }),
        named: None,
        part: Some(Part::TStub(stub)),
    }
}

fn stub(request: &mut CheckBoltRequest) -> &mut TStubInput {
    match &mut request.part {
        Some(Part::TStub(stub)) => stub,
        other => panic!("{other:?} is no T-stub"),
    }
}

fn factor(value: f64) -> v1::FactorChoice {
    v1::FactorChoice { symbol: "gamma_m0".to_owned(), value, reason: String::new() }
}

fn bad(
    what: &'static str,
    field: &'static str,
    words: &'static [&'static str],
    spoil: fn(&mut CheckBoltRequest),
) -> Bad<CheckBoltRequest> {
    Bad { what, spoil, field, words }
}

#[test]
fn a_t_stub_that_cannot_be_used_is_refused_at_its_field() {
    let table = [
        bad("no rules", "rules.pack", &["EN 1993"], |r| r.rules = None),
        bad("no word on prying", "t_stub.prying", &["PRYING_CHOICE_BEARS"], |r| {
            stub(r).prying = 0;
        }),
        bad("no factor", "rules.factors[0].value", &["0.1"], |r| {
            r.rules.get_or_insert_default().factors.push(factor(0.0));
        }),
        bad("no thickness", "t_stub.t_mm", &["-12 mm", "above zero"], |r| {
            stub(r).t_mm = Some(-12.0);
        }),
        bad("a thickness left out", "t_stub.t_mm", &["nothing", "thickness"], |r| {
            stub(r).t_mm = None;
        }),
        bad("a lever that is no number", "t_stub.m_mm", &["NaN"], |r| {
            stub(r).m_mm = Some(f64::NAN);
        }),
        bad("a length of nothing", "t_stub.l_eff_2_mm", &[], |r| {
            stub(r).l_eff_2_mm = Some(0.0);
        }),
        bad("a pull that pushes", "t_stub.f_t_ed_n", &["-5"], |r| {
            stub(r).f_t_ed_n = Some(-5.0);
        }),
        bad("no part", "part", &["t_stub", "bolt_group"], |r| r.part = None),
    ];
    let call = |request: &CheckBoltRequest| service::check_bolt(request).map(|_| ());
    call(&good()).unwrap();
    assert_refused(&good(), &table, call);
}

/// The smaller of two edge distances above one of them is no number that is wrong by itself.
#[test]
fn edge_distances_that_contradict_each_other_check_nothing() {
    let mut request = good();
    stub(&mut request).e_min_mm = Some(40.0);
    let answer = service::check_bolt(&request).unwrap();
    let told = answer.rows.iter().find(|row| row.not_checked_reason.contains("40 mm"));
    assert!(told.is_some(), "{:?}", answer.rows);
    assert_ne!(answer.state(), v1::State::Holds);
}
