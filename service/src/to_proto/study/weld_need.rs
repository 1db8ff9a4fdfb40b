//! `weld_need.proto`: how much of a weld a force needs.

use fishplate_mounts::study::weld_need::{WeldNeed, WeldRule, WeldSide};
use fishplate_proto::v1;

use crate::units::MM;

/// The whole answer.
pub(crate) fn need(need: WeldNeed) -> v1::NeedWeldResponse {
    let WeldNeed { weld, force, case, drawn, sides, assumptions, cautions } = need;
    v1::NeedWeldResponse {
        weld,
        force_n: force,
        case_name: case,
        drawn_mm: drawn / MM,
        sides: sides.into_iter().map(side).collect(),
        assumptions,
        cautions,
    }
}

fn side(side: WeldSide) -> v1::WeldSide {
    let WeldSide { part, thickness, leg, rules } = side;
    v1::WeldSide {
        part,
        thickness_mm: thickness / MM,
        leg_mm: leg / MM,
        rules: rules.into_iter().map(rule).collect(),
    }
}

fn rule(rule: WeldRule) -> v1::WeldLengthRule {
    let WeldRule { what, sheet, carries, length } = rule;
    v1::WeldLengthRule {
        what: what.to_owned(),
        sheet,
        carries_n_per_mm: carries * MM,
        length_mm: length / MM,
    }
}
