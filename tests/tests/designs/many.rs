//! Many designs at once: each has the verdict that it has alone.

use fishplate_proto::v1;
use fishplate_proto::v1::check_designs_response::Update;
use fishplate_tests::refusal::Refusal;
use fishplate_tests::{project::mm, service};
use prost::Message;

use crate::bench::{assert_told, lift, single_bracket};

pub(crate) fn option(label: &str, changes: Vec<v1::FieldChange>) -> v1::OpenOption {
    v1::OpenOption { label: label.to_owned(), changes }
}

pub(crate) fn open(name: &str, options: Vec<v1::OpenOption>) -> v1::OpenQuantity {
    v1::OpenQuantity { name: name.to_owned(), options }
}

pub(crate) fn base() -> v1::Project {
    let mut p = single_bracket(6.0);
    p.cases.push(lift());
    p
}

/// What changes the base when `change` is done to it.
pub(crate) fn changes(change: impl Fn(&mut v1::Project)) -> Vec<v1::FieldChange> {
    let mut after = base();
    change(&mut after);
    fishplate_proto::changes::between("Project", &base(), &after).expect("both are projects")
}

pub(crate) fn leg(value: f64) -> impl Fn(&mut v1::Project) {
    move |p| p.welds[0].leg = mm(value)
}

pub(crate) fn thickness(value: f64) -> impl Fn(&mut v1::Project) {
    move |p| {
        let Some(v1::part::Form::Folded(u)) = &mut p.parts[0].form else { panic!() };
        u.thickness = mm(value);
    }
}

const LEGS: [f64; 4] = [0.05, 0.3, 3.0, 5.0];
const SHEETS: [f64; 3] = [5.0, 1.0, 0.4];

fn space() -> v1::DesignSpace {
    let legs = LEGS.map(|l| option(&format!("{l} mm"), changes(leg(l)))).to_vec();
    let sheets = SHEETS.map(|t| option(&format!("{t} mm"), changes(thickness(t)))).to_vec();
    let quantities = vec![open("weld.foot.leg", legs), open("part.bracket.thickness", sheets)];
    v1::DesignSpace { base: Some(base()), quantities }
}

pub(crate) fn told(request: &v1::CheckDesignsRequest) -> (Vec<v1::DesignBlock>, v1::DesignsDone) {
    let all = service::check_designs(request).expect("designs that can be read");
    let mut blocks = Vec::new();
    let mut done = None;
    for message in all {
        match message.update.expect("every message says something") {
            Update::Progress(_) => {}
            Update::Block(block) => blocks.push(block),
            Update::Done(last) => done = Some(last),
        }
    }
    (blocks, done.expect("a last message"))
}

#[test]
fn each_of_many_has_the_verdict_that_it_has_alone() {
    let detail = v1::DesignDetail::Governing.into();
    let request = v1::CheckDesignsRequest { space: Some(space()), choices: Vec::new(), detail };
    let (blocks, done) = told(&request);
    assert_eq!(done.designs, 12);
    let rows: Vec<v1::DesignRow> = blocks.iter().flat_map(|b| b.new_rows.clone()).collect();
    let verdicts: Vec<i32> = blocks.iter().flat_map(|b| b.verdicts.clone()).collect();
    let uses: Vec<f32> = blocks.iter().flat_map(|b| b.utilisations.clone()).collect();
    let governing: Vec<u32> = blocks.iter().flat_map(|b| b.rows.clone()).collect();
    for (at, (l, t)) in LEGS.iter().flat_map(|l| SHEETS.iter().map(move |t| (*l, *t))).enumerate() {
        let mut alone = base();
        leg(l)(&mut alone);
        thickness(t)(&mut alone);
        let request = v1::CheckProjectRequest { project: Some(alone), ..Default::default() };
        let Ok(answer) = service::check(&request) else {
            assert_eq!(verdicts[at], 0, "leg {l}, sheet {t}");
            continue;
        };
        assert_eq!(verdicts[at], answer.verdict, "leg {l}, sheet {t}");
        let most = answer
            .rows
            .iter()
            .filter(|row| row.kind() != v1::CheckKind::Detailing)
            .max_by(|a, b| a.utilisation().total_cmp(&b.utilisation()))
            .unwrap();
        assert!((f64::from(uses[at]) - most.utilisation()).abs() <= 1e-6 * most.utilisation());
        assert_eq!(rows[governing[at] as usize - 1].what, most.what, "leg {l}, sheet {t}");
    }
    let counted = done.holding + done.provisional + done.exceeding + done.not_buildable;
    assert_eq!(counted, 12);
}

#[test]
fn named_designs_come_in_their_order_and_packed() {
    let detail = v1::DesignDetail::Governing.into();
    let all = v1::CheckDesignsRequest { space: Some(space()), choices: Vec::new(), detail };
    let choices = [3, 0, 0, 2, 3, 0].repeat(100);
    let some = v1::CheckDesignsRequest { choices, ..all.clone() };
    let (every, _) = told(&all);
    let (blocks, done) = told(&some);
    assert_eq!(done.designs, 300);
    let uses: Vec<f32> = blocks.iter().flat_map(|b| b.utilisations.clone()).collect();
    let of = |leg: usize, sheet: usize| every[0].utilisations[leg * SHEETS.len() + sheet].to_bits();
    for three in uses.chunks(3) {
        let bits: Vec<u32> = three.iter().map(|u| u.to_bits()).collect();
        assert_eq!(bits, [of(3, 0), of(0, 2), of(3, 0)]);
    }
    let firsts: Vec<u64> = blocks.iter().map(|b| b.first).collect();
    assert!(firsts.windows(2).all(|w| w[0] < w[1]) && firsts[0] == 0, "{firsts:?}");
    let bytes: usize = blocks.iter().map(Message::encoded_len).sum();
    assert!(bytes <= 20 * 300, "{bytes} bytes of 300 designs");
}

#[test]
fn two_quantities_that_set_one_field_are_both_named() {
    let mut twice = space();
    twice.quantities.push(open("leg again", vec![option("2 mm", changes(leg(2.0)))]));
    let request = v1::CheckDesignsRequest { space: Some(twice), ..Default::default() };
    let refusal = Refusal::of(&service::check_designs(&request).unwrap_err());
    let at = "space.quantities[2].options[0].changes[0].field_path";
    assert_told(&refusal, at, &["leg again", "weld.foot.leg", "welds[0].leg.value_mm"]);
}

#[test]
fn what_cannot_be_read_is_told_where_it_stands() {
    let mut wrong = space();
    wrong.quantities[0].options[1].changes[0].field_path = "welds[0].legg".to_owned();
    wrong.quantities[1].options[0].label = String::new();
    wrong.quantities[1].options[2].changes = changes(|p| p.bolts.clear());
    let ask = |space| {
        let request = v1::CheckDesignsRequest { space: Some(space), ..Default::default() };
        Refusal::of(&service::check_designs(&request).unwrap_err())
    };
    let refusal = ask(wrong.clone());
    assert_told(&refusal, "space.quantities[1].options[0].label", &["told"]);
    wrong.quantities[1].options[0].label = "5 mm".to_owned();
    let refusal = ask(wrong);
    assert_told(&refusal, "space.quantities[0].options[1].changes[0]", &["legg", "leg"]);
    let at = "space.quantities[1].options[2].changes[0].field_path";
    assert_told(&refusal, at, &["bolts", "come and go"]);
    let request = v1::CheckDesignsRequest {
        space: Some(space()),
        choices: vec![0, 3, 0],
        ..Default::default()
    };
    let refusal = Refusal::of(&service::check_designs(&request).unwrap_err());
    assert_told(&refusal, "choices", &["whole number of designs"]);
    let request = v1::CheckDesignsRequest { choices: vec![0, 3], ..request };
    let refusal = Refusal::of(&service::check_designs(&request).unwrap_err());
    assert_told(&refusal, "choices[1]", &["below 3"]);
}
