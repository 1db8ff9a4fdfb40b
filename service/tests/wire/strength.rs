//! Single parts over the wire, against worked examples.

use fishplate_proto::v1;
use fishplate_proto::v1::check_bolt_request::Part;
use fishplate_service::in_process::connect_to;
use fishplate_service::limits::Limits;
use fishplate_service::server::Server;
use tonic::transport::Channel;
use tonic::{Code, Status};
use tonic_types::StatusExt;

async fn client() -> v1::strength_service_client::StrengthServiceClient<Channel> {
    let channel = connect_to(Server::new(Limits::in_process())).await.unwrap();
    v1::strength_service_client::StrengthServiceClient::new(channel)
}

fn rules() -> v1::Rules {
    v1::Rules { pack: "EN 1993".to_owned(), ..Default::default() }
}

fn with_m0(value: f64) -> v1::Rules {
    let reason = "national annex".to_owned();
    let own = v1::FactorChoice { symbol: "gamma_m0".to_owned(), value, reason };
    v1::Rules { factors: vec![own], ..rules() }
}

fn asked(stub: v1::TStubInput) -> v1::CheckBoltRequest {
    v1::CheckBoltRequest { rules: Some(rules()), named: None, part: Some(Part::TStub(stub)) }
}

async fn bolt(request: v1::CheckBoltRequest) -> v1::PartAnswer {
    client().await.check_bolt(request).await.unwrap().into_inner().answer.unwrap()
}

/// The row of the T-stub by the modes of EN 1993-1-8.
fn modes(answer: &v1::PartAnswer) -> &v1::PartRow {
    let clause = "EN 1993-1-8:2005, 6.2.4 and Table 6.2";
    answer.rows.iter().find(|row| row.clause == clause).unwrap()
}

fn step(row: &v1::PartRow, symbol: &str) -> Option<f64> {
    row.derivation.iter().find(|step| step.symbol == symbol).map(|step| step.value)
}

fn close(got: Option<f64>, expected: f64, relative: f64) {
    let got = got.unwrap();
    assert!((got - expected).abs() <= relative * expected, "{got} against {expected}");
}

/// Two bolts of 90.4 kN, effective lengths given.
fn with_lengths() -> v1::TStubInput {
    v1::TStubInput {
        f_t_ed_n: Some(100_000.0),
        f_t_rd_sum_n: Some(180_800.0),
        m_mm: Some(32.0),
        e_mm: Some(36.0),
        e_min_mm: Some(36.0),
        t_mm: Some(12.0),
        f_y_mpa: Some(275.0),
        l_eff_1_mm: Some(90.0),
        l_eff_2_mm: Some(90.0),
        prying: v1::PryingChoice::Bears.into(),
        ..Default::default()
    }
}

/// Two M12-8.8 in 8 mm of S235, an isolated row.
fn isolated() -> v1::TStubInput {
    v1::TStubInput {
        f_t_ed_n: Some(70_000.0),
        f_t_rd_sum_n: Some(97_075.0),
        m_mm: Some(30.0),
        e_mm: Some(25.0),
        e_min_mm: Some(25.0),
        t_mm: Some(8.0),
        f_y_mpa: Some(235.0),
        l_eff_1_mm: None,
        l_eff_2_mm: None,
        ..with_lengths()
    }
}

// EN 1993-1-8:2005, Table 6.2, from memory: M_pl = 0.25 l t² f_y, modes 4 M/m,
// (2 M + n sum F)/(m + n), sum F, worked by hand. Moments of a derivation are N m.
#[tokio::test]
async fn a_t_stub_with_given_effective_lengths() {
    let answer = bolt(asked(with_lengths())).await;
    let row = modes(&answer);
    close(step(row, "m_pl_1"), 891.0, 1e-9);
    close(step(row, "m_pl_2"), 891.0, 1e-9);
    close(step(row, "f_t_1"), 111_375.0, 1e-9);
    close(step(row, "f_t_2"), 121_923.53, 1e-7);
    close(step(row, "f_t_rd_sum"), 180_800.0, 1e-12);
    assert_eq!(step(row, "f_t_12"), None);
    assert_eq!(row.unit, "N");
    close(Some(row.demand), 100_000.0, 1e-12);
    close(Some(row.resistance), 111_375.0, 1e-9);
    close(row.utilisation, 100_000.0 / 111_375.0, 1e-9);
    assert_eq!(row.state(), v1::State::Holds);
    assert!(row.not_checked_reason.is_empty() && row.outside_scope.is_empty());
    assert_eq!(answer.part, "t_stub");
    assert!(!answer.cautions.is_empty());
    let governing = answer.governing_row.and_then(|place| usize::try_from(place).ok()).unwrap();
    assert!(answer.rows[governing].utilisation >= row.utilisation);
    let over = with_lengths();
    let over = bolt(asked(v1::TStubInput { f_t_ed_n: Some(111_376.0), ..over })).await;
    assert_eq!(modes(&over).state(), v1::State::Exceeds);
    assert_eq!(over.state(), v1::State::Exceeds);
    // A quarter more of partial factor takes a fifth of the plate's resistance.
    let request = v1::CheckBoltRequest { rules: Some(with_m0(1.25)), ..asked(with_lengths()) };
    close(step(modes(&bolt(request).await), "f_t_1"), 111_375.0 / 1.25, 1e-9);
}

// The derivation ends in the utilisation, tells the fields its numbers came from, and no factor
// but gamma_m0 enters: Table 6.2 has no other.
#[tokio::test]
async fn a_t_stub_is_derived_from_the_fields_of_its_request() {
    let request = v1::CheckBoltRequest { rules: Some(with_m0(1.1)), ..asked(with_lengths()) };
    let answer = bolt(request).await;
    let steps = &modes(&answer).derivation;
    let of = |symbol: &str| steps.iter().find(|step| step.symbol == symbol).unwrap();
    assert_eq!(of("l_eff_1").source, "request: t_stub.l_eff_1_mm");
    assert_eq!((of("m").value, of("m").unit.as_str()), (32.0, "mm"));
    assert_eq!(of("f_t_1").expression, "4.0 * m_pl_1 / m");
    assert!(of("gamma_m0").source.contains("national annex"), "{}", of("gamma_m0").source);
    assert_eq!(steps.last().unwrap().symbol, "utilisation");
    let factors: Vec<&str> =
        steps.iter().map(|s| s.symbol.as_str()).filter(|s| s.starts_with("gamma")).collect();
    assert_eq!(factors, ["gamma_m0"]);
    // An isolated row derives its lengths: 4 30 + 1.25 25 = 151.25 below 2 pi 30 = 188.5.
    let answer = bolt(asked(isolated())).await;
    for symbol in ["l_eff_1", "l_eff_2"] {
        let found = modes(&answer).derivation.iter().find(|step| step.symbol == symbol).unwrap();
        close(Some(found.value), 151.25, 1e-12);
        assert!(!found.expression.is_empty());
    }
}

// EN 1993-1-8:2005, Table 6.2 for an isolated row, from memory; own recomputation to five digits.
#[tokio::test]
async fn an_isolated_row_with_and_without_lever_forces() {
    let bearing = bolt(asked(isolated())).await;
    let row = modes(&bearing);
    close(step(row, "m_pl_1"), 568.7, 1e-5);
    close(step(row, "f_t_1"), 75_827.0, 1e-5);
    close(step(row, "f_t_2"), 64_805.0, 1e-5);
    close(step(row, "f_t_rd_sum"), 97_075.0, 1e-12);
    close(Some(row.resistance), 64_805.0, 1e-5);
    assert_eq!(row.state(), v1::State::Exceeds);
    let free = v1::TStubInput { prying: v1::PryingChoice::Free.into(), ..isolated() };
    let free = bolt(asked(free)).await;
    let row = modes(&free);
    close(Some(row.resistance), 37_913.0, 2e-5);
    close(step(row, "f_t_12"), 37_913.0, 2e-5);
    assert!(step(row, "f_t_1").is_none() && step(row, "f_t_2").is_none());
    let thick = bolt(asked(v1::TStubInput { t_mm: Some(30.0), ..isolated() })).await;
    close(Some(modes(&thick).resistance), 97_075.0, 1e-12);
}

fn paths(status: &Status) -> Vec<String> {
    assert_eq!(status.code(), Code::InvalidArgument, "{status:?}");
    let details = status.get_error_details();
    details.bad_request().unwrap().field_violations.iter().map(|v| v.field.clone()).collect()
}

type Change = fn(&mut v1::TStubInput);

/// One change to a sound T-stub, and the one field that it spoils.
const FAULTS: &[(&str, Change)] = &[
    ("t_stub.prying", |p| p.prying = 0),
    ("t_stub.prying", |p| p.prying = 99),
    ("t_stub.f_t_ed_n", |p| p.f_t_ed_n = Some(-1.0)),
    ("t_stub.f_t_ed_n", |p| p.f_t_ed_n = Some(f64::NAN)),
    ("t_stub.f_t_ed_n", |p| p.f_t_ed_n = Some(1e300)),
    ("t_stub.f_t_rd_sum_n", |p| p.f_t_rd_sum_n = Some(-180_800.0)),
    ("t_stub.m_mm", |p| p.m_mm = Some(0.0)),
    ("t_stub.m_mm", |p| p.m_mm = Some(1e-300)),
    ("t_stub.m_mm", |p| p.m_mm = None),
    ("t_stub.e_mm", |p| p.e_mm = Some(-36.0)),
    ("t_stub.t_mm", |p| p.t_mm = Some(1e200)),
    ("t_stub.f_y_mpa", |p| p.f_y_mpa = Some(f64::INFINITY)),
    ("t_stub.l_eff_1_mm", |p| p.l_eff_1_mm = Some(0.0)),
    ("t_stub.l_eff_2_mm", |p| p.l_eff_2_mm = Some(-90.0)),
];

#[tokio::test]
async fn each_field_of_a_t_stub_is_refused_by_its_path() {
    let mut client = client().await;
    for (path, change) in FAULTS {
        let mut stub = with_lengths();
        change(&mut stub);
        let status = client.check_bolt(asked(stub)).await.unwrap_err();
        assert_eq!(paths(&status), [*path]);
    }
}

// More yield lines are counted for mode 1, so its length cannot be the longer; and the smaller of
// two edge distances is not above one of them. Neither number is wrong by itself.
#[tokio::test]
async fn numbers_that_contradict_each_other_check_nothing() {
    let spoilt: [(&str, Change); 2] =
        [("l_eff_1", |p| p.l_eff_1_mm = Some(90.1)), ("e_min", |p| p.e_min_mm = Some(36.1))];
    for (symbol, change) in spoilt {
        let mut stub = with_lengths();
        change(&mut stub);
        let answer = bolt(asked(stub)).await;
        let row = modes(&answer);
        assert_eq!(row.state(), v1::State::NotChecked);
        assert!(row.not_checked_reason.contains(symbol), "{}", row.not_checked_reason);
        assert_ne!(answer.state(), v1::State::Holds);
    }
}

#[tokio::test]
async fn an_empty_t_stub_is_told_all_it_needs() {
    let request = v1::CheckBoltRequest {
        part: Some(Part::TStub(v1::TStubInput::default())),
        ..Default::default()
    };
    let status = client().await.check_bolt(request).await.unwrap_err();
    let told = paths(&status);
    let expected = [
        "rules.pack",
        "t_stub.f_t_rd_sum_n",
        "t_stub.m_mm",
        "t_stub.e_mm",
        "t_stub.e_min_mm",
        "t_stub.t_mm",
        "t_stub.f_y_mpa",
        "t_stub.prying",
    ];
    for path in expected {
        assert!(told.iter().any(|known| known == path), "{path} is not in {told:?}");
    }
    // A pull that is left out does not act.
    assert!(!told.iter().any(|path| path == "t_stub.f_t_ed_n"), "{told:?}");
    let nothing = client().await.check_bolt(v1::CheckBoltRequest::default()).await.unwrap_err();
    assert_eq!(paths(&nothing), ["rules.pack", "part"]);
}

#[tokio::test]
async fn rules_that_the_pack_does_not_offer_are_refused_at_their_field() {
    let own = |symbol: &str, value: f64| v1::FactorChoice {
        symbol: symbol.to_owned(),
        value,
        reason: String::new(),
    };
    let bad = v1::Rules {
        edition: "1890".to_owned(),
        format: "ASD".to_owned(),
        national: "Atlantis".to_owned(),
        strengths: "none".to_owned(),
        factors: vec![own("gamma_m0", 1.0), own("gamma_m9", 1.0), own("gamma_m1", 0.0)],
        ..rules()
    };
    let request = v1::CheckBoltRequest { rules: Some(bad), ..asked(with_lengths()) };
    let status = client().await.check_bolt(request).await.unwrap_err();
    let expected = [
        "rules.edition",
        "rules.format",
        "rules.national",
        "rules.strengths",
        "rules.factors[1].symbol",
        "rules.factors[2].value",
    ];
    assert_eq!(paths(&status), expected);
    let unknown = v1::Rules { pack: "nowhere".to_owned(), ..Default::default() };
    let mut stub = with_lengths();
    stub.m_mm = None;
    let request = v1::CheckBoltRequest { rules: Some(unknown), ..asked(stub) };
    let status = client().await.check_bolt(request).await.unwrap_err();
    assert_eq!(paths(&status), ["rules.pack", "t_stub.m_mm"]);
}

/// An M12 in a single lap of 1.9 mm sheet, its numbers by name.
fn lap() -> (v1::Named, v1::BoltInput) {
    let steel = v1::SteelName { name: "S235".to_owned(), thickness_mm: None };
    let named = v1::Named {
        thread: "M12".to_owned(),
        bolt_class: "8.8".to_owned(),
        head: "hex".to_owned(),
        steel: Some(steel),
        ..Default::default()
    };
    let mut bolt = v1::BoltInput {
        d_0_mm: Some(13.0),
        t_mm: Some(4.0),
        n_planes: Some(1.0),
        f_1_ed_n: Some(10_000.0),
        e_1_mm: Some(30.0),
        e_2_mm: Some(30.0),
        ..Default::default()
    };
    bolt.set_plane(v1::ShearPlaneChoice::Threads);
    bolt.set_hole(v1::HoleChoice::Normal);
    bolt.set_lap(v1::LapChoice::Other);
    bolt.set_tightening(v1::TighteningChoice::Snug);
    bolt.set_stretch(v1::HoleStretchChoice::Matters);
    bolt.set_faying(v1::FayingFacesChoice::AsGiven);
    (named, bolt)
}

fn lap_asked(named: v1::Named, bolt: v1::BoltInput) -> v1::CheckBoltRequest {
    v1::CheckBoltRequest { rules: Some(rules()), named: Some(named), part: Some(Part::Bolt(bolt)) }
}

// ISO 898-1 class 8.8 has 800 MPa, M12 has 84.3 mm²: EN 1993-1-8, Table 3.4, from memory gives
// 0.6 800 84.3 / 1.25 = 32.4 kN; S235 has 360 MPa (EN 10025-2).
#[tokio::test]
async fn names_give_numbers_and_a_number_goes_before_them() {
    let (named, bolt_by_name) = lap();
    let answer = bolt(lap_asked(named.clone(), bolt_by_name)).await;
    let shear = answer.rows.iter().find(|row| step(row, "alpha_v").is_some()).unwrap();
    close(Some(shear.resistance), 32_371.0, 1e-3);
    let source = |row: &v1::PartRow, symbol: &str| {
        row.derivation.iter().find(|step| step.symbol == symbol).unwrap().source.clone()
    };
    assert_eq!(source(shear, "f_ub"), "class 8.8");
    let bearing = answer.rows.iter().find(|row| step(row, "f_u").is_some()).unwrap();
    close(step(bearing, "f_u"), 360.0, 1e-12);
    assert_eq!(source(bearing, "f_u"), "material S235");
    // Snug bolts slip by no rule, and no countersink is there.
    assert!(!answer.silent.is_empty() && answer.silent.iter().all(|s| !s.reason.is_empty()));
    let own = v1::BoltInput { f_u_mpa: Some(400.0), ..bolt_by_name };
    let answer = bolt(lap_asked(named, own)).await;
    let bearing = answer.rows.iter().find(|row| step(row, "f_u").is_some()).unwrap();
    close(step(bearing, "f_u"), 400.0, 1e-12);
    assert_eq!(source(bearing, "f_u"), "request: bolt.f_u_mpa");
}

#[tokio::test]
async fn names_that_cannot_be_used_are_refused_at_their_field() {
    type Change = fn(&mut v1::Named);
    let spoilt: [(&str, Change); 8] = [
        ("named.thread", |n| n.thread = "M13".to_owned()),
        ("named.bolt_class", |n| n.bolt_class = "8.9".to_owned()),
        ("named.head", |n| n.head = "torx".to_owned()),
        ("named.washer", |n| n.washer = "ISO 1".to_owned()),
        ("named.steel.name", |n| n.steel.as_mut().unwrap().name = "S999".to_owned()),
        ("named.steel.name", |n| n.steel.as_mut().unwrap().thickness_mm = Some(900.0)),
        // A bolt in one ply has one steel.
        ("named.steel_1", |n| n.steel_1 = n.steel.clone()),
        ("named.section", |n| {
            let name = "tube 60x60x4".to_owned();
            let section = Some(v1::section_name::Section::Name(name));
            n.section = Some(v1::SectionName { section });
        }),
    ];
    let mut client = client().await;
    for (path, change) in spoilt {
        let (mut named, bolt) = lap();
        change(&mut named);
        let status = client.check_bolt(lap_asked(named, bolt)).await.unwrap_err();
        assert_eq!(paths(&status), [path]);
    }
}

// EN 10219-2, tube 60 x 60 x 4 from memory: A 8.55 cm², I 43.6 cm⁴, W_el 14.5 cm³, W_pl 17.6 cm³.
#[tokio::test]
async fn a_section_has_its_listed_properties() {
    let ask = |name: &str| v1::SectionPropertiesRequest {
        section: Some(v1::SectionName {
            section: Some(v1::section_name::Section::Name(name.to_owned())),
        }),
    };
    let answer = client().await.section_properties(ask("tube 60x60x4")).await.unwrap();
    let answer = answer.into_inner();
    let p = answer.properties.unwrap();
    close(Some(p.area_mm2), 855.0, 2e-3);
    close(Some(p.i_y_mm4), 436_000.0, 2e-3);
    close(Some(p.w_el_y_top_mm3), 14_500.0, 5e-3);
    close(Some(p.w_pl_y_mm3), 17_600.0, 5e-3);
    close(Some(answer.plastic_shear_area_z_mm2), p.area_mm2 / 2.0, 1e-9);
    assert!(!answer.source.is_empty() && !answer.cautions.is_empty());
    let status = client().await.section_properties(ask("tube 1x1x1")).await.unwrap_err();
    assert_eq!(paths(&status), ["section.name"]);
    let nothing = v1::SectionPropertiesRequest::default();
    let status = client().await.section_properties(nothing).await.unwrap_err();
    assert_eq!(paths(&status), ["section"]);
}

// A tube of the catalogue as a member: N / (A f_y) by EN 1993-1-1, 6.2.3.
#[tokio::test]
async fn a_member_takes_its_section_and_steel_by_name() {
    let name = v1::section_name::Section::Name("tube 60x60x4".to_owned());
    let named = v1::Named {
        section: Some(v1::SectionName { section: Some(name) }),
        steel: Some(v1::SteelName { name: "S235".to_owned(), thickness_mm: None }),
        ..Default::default()
    };
    let mut member = v1::MemberInput { n_ed_n: Some(50_000.0), ..Default::default() };
    member.set_curve(v1::BucklingCurveChoice::C);
    member.set_ends(v1::EndsSwayChoice::Held);
    member.set_diagram_y(v1::MomentDiagramChoice::EndMoments);
    member.set_diagram_z(v1::MomentDiagramChoice::EndMoments);
    let request = v1::CheckMemberRequest {
        rules: Some(rules()),
        named: Some(named),
        part: Some(v1::check_member_request::Part::Member(member)),
    };
    let answer = client().await.check_member(request).await.unwrap().into_inner();
    let answer = answer.answer.unwrap();
    let tension = answer.rows.iter().find(|row| row.utilisation.is_some_and(|u| u > 0.0)).unwrap();
    close(tension.utilisation, 50_000.0 / (855.0 * 235.0), 3e-3);
}

// A round bar of 20 mm by its shape, nothing said of the moment diagrams: 16 T / (pi d³), and that over
// f_y / √3, by hand.
#[tokio::test]
async fn a_member_takes_a_round_bar_by_its_shape() {
    let bar = v1::section_shape::Shape::RoundBar(v1::RoundBarShape { diameter_mm: 20.0 });
    let shape = v1::section_name::Section::Shape(v1::SectionShape { shape: Some(bar) });
    let named =
        v1::Named { section: Some(v1::SectionName { section: Some(shape) }), ..Default::default() };
    let mut member = v1::MemberInput {
        t_ed_nmm: Some(50_000.0),
        m_y_ed_nmm: Some(10_000.0),
        f_y_mpa: Some(235.0),
        ..Default::default()
    };
    member.set_curve(v1::BucklingCurveChoice::C);
    member.set_ends(v1::EndsSwayChoice::Held);
    let request = v1::CheckMemberRequest {
        rules: Some(rules()),
        named: Some(named),
        part: Some(v1::check_member_request::Part::Member(member)),
    };
    let answer = client().await.check_member(request).await.unwrap().into_inner();
    let answer = answer.answer.unwrap();
    let row = |what: &str| answer.rows.iter().find(|row| row.what == what).unwrap();
    close(row("torsion of the section").utilisation, 0.234_61, 1e-4);
    close(step(row("first yield of the section"), "tau_t"), 31.831, 1e-4);
}
