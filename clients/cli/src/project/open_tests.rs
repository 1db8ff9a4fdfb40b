use super::super::{Texts, settled};
use super::*;

const DEMO: &str = include_str!("../../demo/size-front.toml");
const VAN: &str = include_str!("../../demo/van-b.toml");

fn opened(text: &str) -> Result<Opened, Vec<Fault>> {
    Texts::alone(text).read_open()
}

fn with(from: &str, to: &str) -> String {
    assert!(VAN.contains(from), "{from}");
    VAN.replacen(from, to, 1)
}

fn labels(quantity: &Quantity) -> Vec<&str> {
    quantity.options.iter().map(|choice| choice.label.as_str()).collect()
}

#[test]
fn the_demo_leaves_more_than_a_hundred_thousand_designs_open() {
    let open = opened(DEMO).unwrap();
    let names: Vec<&str> = open.quantities.iter().map(|q| q.name.as_str()).collect();
    assert_eq!(names[..3], ["bush-bolt", "part.front-doubler.plate", "part.front-doubler.outline"]);
    let designs: usize = open.quantities.iter().map(|q| q.options.len()).product();
    assert_eq!(designs, 5 * 6 * 2 * 6 * 4 * 7 * 4 * 7);
    let leg = open.quantities.iter().find(|q| q.name == "weld.front-foot.bead").unwrap();
    let legs = ["2 mm", "2.5 mm", "3 mm", "3.5 mm", "4 mm", "4.5 mm", "5 mm"];
    assert_eq!(labels(leg), legs.map(|leg| format!("fillet leg {leg}")));
    // The base is the first option; an option changes its own field and no other.
    assert!(leg.options[0].changes.is_empty());
    assert_eq!(leg.options[1].changes.len(), 1);
    assert!(leg.options[1].changes[0].field_path.ends_with(".leg.value_mm"));
    let bolt = &open.quantities[0];
    assert_eq!(bolt.options[1].label, "M10 10.9, 11 mm, 20 x 2 mm");
    let paths: Vec<&str> =
        bolt.options[4].changes.iter().map(|c| c.field_path.rsplit('.').next().unwrap()).collect();
    for field in ["thread", "class", "value_mm", "washer_outside_mm", "washer_thickness_mm"] {
        assert!(paths.contains(&field), "no {field} in {paths:?}");
    }
}

#[test]
fn every_kind_of_quantity_may_be_left_open() {
    for (from, to, options) in [
        // Number and places of bolts.
        (
            "at      = [\"x -310, z 460 mm\", \"x -250, z 460 mm\", \"x -310, z 495 mm\", \"x -250, z 495 mm\"]",
            "at = { any = [[\"x -310, z 460 mm\", \"x -250, z 460 mm\"], [\"x -310, z 460 mm\", \
             \"x -250, z 460 mm\", \"x -310, z 495 mm\"]] }",
            2,
        ),
        // Stitches, a run, an outline, the legs of a gusset, a rolled section.
        (
            "pattern = \"40 on, 40 off mm\"",
            "pattern = { any = [\"40 on, 40 off mm\", \"30 on, 60 off mm\"] }",
            2,
        ),
        (
            "to     = \"x 580 mm\"",
            "to = { from = \"x 480 mm\", to = \"x 580 mm\", step = \"50 mm\" }",
            3,
        ),
        (
            "outline = \"spear x 200, z 84 mm\"",
            "outline = { any = [\"spear x 200, z 84 mm\", \"spear x 180, z 84 mm\"] }",
            2,
        ),
        (
            "legs   = \"z 60, y 55 mm\"",
            "legs = { any = \"z {leg}, y {leg} mm\", leg = [\"50\", \"55\", \"60\"] }",
            3,
        ),
        (
            "bar     = \"angle 80 x 80 x 8 mm S275\"",
            "bar = { any = \"angle {angle} S275\", angle = [\"60 x 60 x 6 mm\", \"80 x 80 x 8 mm\"] }",
            2,
        ),
    ] {
        let open = opened(&with(from, to)).unwrap_or_else(|faults| panic!("{to}: {faults:?}"));
        assert_eq!(open.quantities.len(), 1, "{to}");
        assert_eq!(open.quantities[0].options.len(), options, "{to}");
        assert!(open.quantities[0].options[1..].iter().all(|o| !o.changes.is_empty()), "{to}");
    }
}

#[test]
fn what_cannot_be_read_is_told_where_it_stands() {
    let told = |from: &str, to: &str, words: &str| {
        let text = with(from, to);
        let faults = opened(&text).unwrap_err();
        let fault = faults.iter().find(|f| f.what.contains(words) || f.advice.contains(words));
        let fault = fault.unwrap_or_else(|| panic!("no `{words}` in {faults:?}"));
        let span = fault.span.clone().unwrap();
        assert!(text.get(span.clone()).is_some(), "{span:?}");
    };
    let folded = "folded = \"U 5 mm S275\"";
    told(folded, "folded = { any = \"U {sheet} S275\" }", "add to [shop]");
    told(folded, "folded = { any = [] }", "nothing can be chosen");
    told(folded, "folded = { any = [\"U 5 mm S275\", \"V 5 mm S275\"] }", "V 5 mm");
    let reach = "reach  = \"85 mm\"";
    told(reach, "reach = { from = \"5 mm\", to = \"2 mm\", step = \"1 mm\" }", "goes up");
    told(reach, "reach = { from = \"5\", to = \"9 mm\", step = \"1 mm\" }", "three lengths");
    told(reach, "reach = { from = \"1 mm\", to = \"9 m\", step = \"1 mm\" }", "slip");
    let shop = "# ---- front: bracket";
    told(
        shop,
        "[open.x]\noptions = [{ \"part.fron.folded\" = \"U 5 mm S275\" }]\n# ---- front",
        "no `part.fron`",
    );
    told(shop, "[open.x]\noption = []\n# ---- front", "no `option`");
    let faults = opened(VAN).unwrap_err();
    assert!(faults[0].what.contains("leaves nothing open"), "{faults:?}");
}

#[test]
fn a_command_that_wants_one_design_says_what_is_open() {
    let faults = Texts::alone(DEMO).read().unwrap_err();
    assert_eq!(faults.len(), 8, "{faults:?}");
    assert!(faults.iter().all(|f| f.advice.contains("fishplate size")), "{faults:?}");
    let text = with("folded = \"U 5 mm S275\"", "folded = { any = [\"U 5 mm S275\"] }");
    let mut texts = Texts::alone(&text);
    assert!(texts.read().is_err());
    texts.source.add("--set".to_owned(), "part.front-bracket.folded=U 6 mm S275".to_owned());
    assert!(texts.read().is_ok());
    // What the shop has does no harm.
    assert!(
        Texts::alone(&with("# ---- front", "[shop]\nsheet = [\"2 mm\"]\n# ---- front"))
            .read()
            .is_ok()
    );
}

#[test]
fn the_best_design_is_written_with_every_comment_kept() {
    let texts = Texts::alone(DEMO);
    let open = texts.read_open().unwrap();
    let choice: Vec<usize> = open.quantities.iter().map(|q| q.options.len() - 1).collect();
    let text = settled(&texts.source, &open, &choice).unwrap();
    let comments = |text: &str| {
        text.lines().filter(|l| l.starts_with('#')).map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(comments(&text), comments(DEMO));
    let read = Texts::alone(&text).read().unwrap_or_else(|faults| panic!("{faults:?}\n{text}"));
    // The same as the base with the chosen options.
    let mut message = fishplate_proto::changes::open("Project", &open.base.project).unwrap();
    for (quantity, option) in open.quantities.iter().zip(&choice) {
        for change in &quantity.options[*option].changes {
            let value = change.value.clone().unwrap();
            fishplate_proto::changes::set(&mut message, &change.field_path, &value).unwrap();
        }
    }
    let project: v1::Project =
        prost::Message::decode(&prost::Message::encode_to_vec(&message)[..]).unwrap();
    assert_eq!(read.project, project);
}
