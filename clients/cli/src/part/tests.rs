use super::*;

const GOOD: &str = r#"
rules = "EN 1993"

[plug]
f_v_ed = "4.5 kN"
d_hole = "10 mm"
t = "2 mm"
steel = "S235 2 mm"

[bolt.front]
thread = "M12"
d_0 = "1/2 in"
e_1 = "20 mm"
f_u = "58 ksi"
n_planes = 1
hole = "short-slot-along"

[bolt.rear]
thread = "M10"
"#;

fn read_good() -> Vec<Part> {
    read(GOOD, None).unwrap_or_else(|faults| panic!("{faults:?}"))
}

#[test]
fn keys_become_fields_of_the_contract_in_its_units() {
    let parts = read_good();
    let labels: Vec<_> = parts.iter().map(|part| part.label.as_str()).collect();
    assert_eq!(labels, ["[plug]", "[bolt.front]", "[bolt.rear]"]);
    let plug = &parts[0].body;
    assert_eq!(plug["rules"]["pack"], "EN 1993");
    assert_eq!(plug["plug"]["f_v_ed_n"], 4500.0);
    assert_eq!(plug["named"]["steel"], json!({ "name": "S235", "thickness_mm": 2.0 }));
    let bolt = &parts[1].body;
    assert_eq!(bolt["bolt"]["d_0_mm"], 12.7);
    // 1 ksi is 6.894 757 293 MPa (NIST SP 811, 2008, B.8).
    let f_u = bolt["bolt"]["f_u_mpa"].as_f64().unwrap();
    assert!((f_u - 58.0 * 6.894_757_293).abs() < 1e-6, "{f_u}");
    assert_eq!(bolt["bolt"]["hole"], "HOLE_CHOICE_SHORT_SLOT_ALONG");
    assert_eq!(bolt["named"]["thread"], "M12");
    let at = parts[1].places.find("bolt.e_1_mm").unwrap();
    assert_eq!(&GOOD[at], "\"20 mm\"");
}

#[test]
fn the_service_knows_what_is_written() {
    for part in read_good() {
        let body = part.body.to_string();
        let read = match part.kind.request {
            "CheckBoltRequest" => fishplate_proto::json::from_json::<
                fishplate_proto::v1::CheckBoltRequest,
            >("CheckBoltRequest", &body)
            .map(|request| request.part.is_some()),
            _ => fishplate_proto::json::from_json::<fishplate_proto::v1::CheckWeldRequest>(
                "CheckWeldRequest",
                &body,
            )
            .map(|request| request.part.is_some()),
        };
        assert!(read.unwrap_or_else(|error| panic!("{body}: {error}")));
    }
}

fn fault(text: &str) -> (String, String) {
    let faults = read(text, None).unwrap_err();
    assert_eq!(faults.len(), 1, "{faults:?}");
    (faults[0].what.clone(), faults[0].advice.clone())
}

#[test]
fn what_is_misspelt_is_named_with_its_nearest() {
    let (what, advice) = fault("[bolz]\nd = \"12 mm\"\n");
    assert!(what.contains("bolz") && advice.contains("`bolt`"), "{what} {advice}");
    let (what, advice) = fault("[bolt]\ne1 = \"20 mm\"\n");
    assert!(what.contains("[bolt]") && what.contains("e1"), "{what}");
    assert!(advice.contains("did you mean `e_1`"), "{advice}");
    assert!(advice.contains("--describe bolt"), "{advice}");
    let (what, advice) = fault("[bolt]\nhole = \"oversize\"\n");
    assert!(what.contains("oversize") && advice.contains("\"oversized\""), "{what} {advice}");
}

#[test]
fn units_and_bare_numbers_are_told() {
    let (what, _) = fault("[bolt]\ne_1 = \"20 kN\"\n");
    assert!(what.contains("e_1") && what.contains("kN") && what.contains("mm"), "{what}");
    let (what, advice) = fault("[bolt]\ne_1 = 20\n");
    assert!(what.contains("bare number") && advice.contains("20 mm"), "{what} {advice}");
    let (what, _) = fault("[bolt]\nf_t_ed = \"32\"\n");
    assert!(what.contains("no unit"), "{what}");
    let (what, advice) = fault("[bolt]\ne_1 = \"~20 mm ± 2\"\n");
    assert!(what.contains("guess") && advice.contains("one number"), "{what} {advice}");
    let (what, _) = fault("bolt = \"M12\"\n");
    assert!(what.contains("section"), "{what}");
    let (what, _) = fault("rules = \"EN 1993\"\n");
    assert!(what.contains("no part"), "{what}");
    assert!(fault("rules = 1993\n[plug]\n").0.contains("rules"));
}

#[test]
fn rules_are_a_word_or_a_section() {
    let text = "[rules]\npack = \"EN 1993\"\nnational = \"DE\"\n[rules.factors]\n\
                gamma_m2 = \"1.35\"\ngamma_m0 = 1.1\n[plug]\n";
    let parts = read(text, None).unwrap_or_else(|faults| panic!("{faults:?}"));
    let rules = &parts[0].body["rules"];
    assert_eq!(rules["national"], "DE");
    assert_eq!(rules["factors"][0], json!({ "symbol": "gamma_m2", "value": 1.35 }));
    assert_eq!(rules["factors"][1], json!({ "symbol": "gamma_m0", "value": 1.1 }));
    let at = parts[0].places.find("rules.factors[0].value").unwrap();
    assert_eq!(&text[at], "\"1.35\"");
    let other = read(text, Some("AISC 360")).unwrap_or_else(|faults| panic!("{faults:?}"));
    assert_eq!(other[0].body["rules"], json!({ "pack": "AISC 360" }));
    assert!(fault("[rules]\npak = \"EN 1993\"\n[plug]\n").1.contains("`pack`"));
}

#[test]
fn a_section_of_a_member_is_a_name_or_a_shape() {
    let text = "[member.a]\nsection = \"tube 60x60x4\"\n[member.b]\n\
                section = { rectangular_tube = { height = \"3 in\", width = \"2 in\", \
                thickness = \"1/8 in\" } }\n";
    let parts = read(text, None).unwrap_or_else(|faults| panic!("{faults:?}"));
    assert_eq!(parts[0].body["named"]["section"], json!({ "name": "tube 60x60x4" }));
    let shape = &parts[1].body["named"]["section"]["shape"]["rectangular_tube"];
    assert_eq!(shape["height_mm"], 76.2);
    assert_eq!(shape["thickness_mm"], 3.175);
    let (what, advice) = fault("[member]\nsection = { rectangular_tub = { height = \"3 in\" } }\n");
    assert!(what.contains("rectangular_tub"), "{what}");
    assert!(advice.contains("`rectangular_tube`"), "{advice}");
}

#[test]
fn every_kind_is_told_with_keys_of_their_own() {
    let kinds = kinds();
    assert!(kinds.iter().any(|kind| kind.name == "bolt"));
    for kind in &kinds {
        assert!(!kind.what.is_empty(), "{}", kind.name);
        let mut names: Vec<_> = kind.keys.iter().map(|key| key.name.as_str()).collect();
        names.sort_unstable();
        let count = names.len();
        names.dedup();
        assert_eq!(names.len(), count, "{}: a key twice", kind.name);
    }
}
