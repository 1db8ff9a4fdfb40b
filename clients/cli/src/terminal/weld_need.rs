//! How much of a weld a force needs.

use fishplate_proto::v1::{NeedWeldResponse, WeldLengthRule, WeldSide};

use super::number::{fixed, quantity};
use super::page::{Look, Page};

/// The answer as text.
pub(crate) fn weld_need(answer: &NeedWeldResponse, look: Look) -> String {
    let units = look.units();
    let mut page = Page::new(look);
    page.blank();
    let from = match answer.case_name.as_str() {
        "" => String::new(),
        case => format!(", the largest that crosses it, in {case} with its load factor"),
    };
    let head = format!(
        "{} for {}{from}; {} are drawn",
        answer.weld,
        quantity(answer.force_n, "N", units),
        quantity(answer.drawn_mm, "mm", units)
    );
    page.wrapped("", 2, &head);
    page.blank();
    for WeldSide { part, thickness_mm, leg_mm, rules } in &answer.sides {
        let longest = rules.iter().max_by(|a, b| a.length_mm.total_cmp(&b.length_mm));
        let text = match longest {
            None => "no rule speaks about it".to_owned(),
            Some(WeldLengthRule { what, sheet, carries_n_per_mm, length_mm }) => {
                let (carries, unit) = units.of(*carries_n_per_mm, "N/mm");
                format!(
                    "at least {} of leg {}: the {} governs ({what}, {} {unit})",
                    quantity(*length_mm, "mm", units),
                    quantity(*leg_mm, "mm", units),
                    if *sheet { "sheet" } else { "throat" },
                    fixed(carries, 0)
                )
            }
        };
        let lead = format!("  {part}, {}  ", quantity(*thickness_mm, "mm", units));
        page.wrapped(&look.text(&lead), 4, &text);
    }
    page.blank();
    for assumption in &answer.assumptions {
        page.wrapped("Taken for granted: ", 2, assumption);
    }
    page.blank();
    for caution in &answer.cautions {
        page.wrapped("", 0, caution);
    }
    page.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_line_tells_what_each_side_needs() {
        let rule = |sheet, carries_n_per_mm, length_mm| WeldLengthRule {
            what: "a rule".to_owned(),
            sheet,
            carries_n_per_mm,
            length_mm,
        };
        let answer = NeedWeldResponse {
            weld: "weld.foot left".to_owned(),
            force_n: 15_000.0,
            drawn_mm: 160.0,
            sides: vec![
                WeldSide {
                    part: "rail.frame left".to_owned(),
                    thickness_mm: 1.6,
                    leg_mm: 1.6,
                    rules: vec![rule(false, 235.0, 63.8), rule(true, 217.0, 69.1)],
                },
                WeldSide {
                    part: "part.bracket left".to_owned(),
                    thickness_mm: 5.0,
                    leg_mm: 4.0,
                    rules: vec![rule(false, 588.0, 25.5), rule(true, 678.0, 22.1)],
                },
            ],
            ..Default::default()
        };
        let text = weld_need(&answer, Look::new(160, false));
        assert!(text.contains("weld.foot left for 15.00 kN; 160.00 mm are drawn"), "{text}");
        let rail = "rail.frame left, 1.60 mm  at least 69.10 mm of leg 1.60 mm: the sheet governs";
        let plate =
            "part.bracket left, 5.00 mm  at least 25.50 mm of leg 4.00 mm: the throat governs";
        assert!(text.contains(rail) && text.contains(plate), "{text}");
    }
}
