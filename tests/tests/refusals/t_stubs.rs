//! Single components that cannot be checked.

use fishplate_proto::v1;
use fishplate_proto::v1::CheckTStubRequest;
use fishplate_tests::service;

use crate::input::{Bad, assert_refused};

fn good() -> CheckTStubRequest {
    let mut request = CheckTStubRequest {
        gamma_m0: 1.0,
        force_n: 10_000.0,
        bolt_resistance_sum_n: 180_800.0,
        m_mm: 32.0,
        e_mm: 36.0,
        e_min_mm: 36.0,
        thickness_mm: 12.0,
        fy_mpa: 275.0,
        ..Default::default()
    };
    request.set_rules(v1::RulePack::En1993);
    request.set_prying(v1::Prying::Bears);
    request
}

fn bad(
    what: &'static str,
    field: &'static str,
    words: &'static [&'static str],
    spoil: fn(&mut CheckTStubRequest),
) -> Bad<CheckTStubRequest> {
    Bad { what, spoil, field, words }
}

#[test]
fn a_t_stub_that_cannot_be_used_is_refused_at_its_field() {
    let table = [
        bad("no rules", "rules", &["RULE_PACK_EN_1993"], |r| r.rules = 0),
        bad("no word on prying", "prying", &["PRYING_BEARS"], |r| r.prying = 0),
        bad("no factor", "gamma_m0", &[], |r| r.gamma_m0 = 0.0),
        bad("no thickness", "thickness_mm", &[], |r| r.thickness_mm = -12.0),
        bad("a lever that is no number", "m_mm", &["NaN"], |r| r.m_mm = f64::NAN),
        bad("a smaller edge that is larger", "e_min_mm", &["40"], |r| r.e_min_mm = 40.0),
        bad("a length of nothing", "effective_length_2_mm", &[], |r| {
            r.effective_length_2_mm = Some(0.0);
        }),
        bad("a pull that pushes", "force_n", &["-5"], |r| r.force_n = -5.0),
    ];
    let call = |request: &CheckTStubRequest| service::check_t_stub(request).map(|_| ());
    call(&good()).unwrap();
    assert_refused(&good(), &table, call);
}
