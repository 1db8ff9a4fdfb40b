//! What a batch can't carry, and numbers that can't be used: told by path, all at once.

use crate::build::*;
use fishplate_solver::RunToEnd;
use fishplate_solver::batch::{BatchAsked, BatchError, FrameBatch, SectionProperty, Varied};
use fishplate_solver::model::*;

fn paths(draft: FrameDraft, asked: BatchAsked) -> Vec<String> {
    let model = draft.validate().expect("a sound frame");
    let faults = FrameBatch::new(&model, asked).expect_err("to be refused");
    assert!(faults.iter().all(|f| !f.given.is_empty() && !f.allowed.is_empty()));
    faults.into_iter().map(|fault| fault.path).collect()
}

fn asked() -> BatchAsked {
    BatchAsked {
        varied: everything(),
        moduli: vec![MODULI; 2],
        displacements: Vec::new(),
        end_forces: false,
    }
}

#[test]
fn what_a_batch_cannot_carry_is_named() {
    let mut draft = tower(1, 2, &mut Lots(1)).draft().clone();
    draft.beams[2].releases_end[4] = Release::Free;
    draft.sections[1].i_yz = 1e-8;
    draft.springs[0].behaviour[1] = SpringAction::CompressionOnly { gap: 0.0 };
    draft.springs[1].preset[0] = 1e-3;
    draft.supports[2].axes = [[0.0, 1.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, 1.0]];
    draft.supports[1].dofs[2] = Restraint::StopsNegative;
    draft.load_cases[0].acceleration = [0.0, 0.0, -9.8];
    draft.load_cases[1].thermal.push(ThermalLoad {
        beam: BeamId(0),
        uniform: 10.0,
        gradient_y: 0.0,
        gradient_z: 0.0,
    });
    draft.load_cases[1].prescribed.push(Prescribed { node: NodeId(0), dof: Dof::Ux, value: 1e-3 });
    draft.nodes.push(Node { position: [2.0, 0.0, 0.0] });
    draft.rigid_links.push(RigidLink { master: NodeId(7), slave: NodeId(8), dofs: [true; 6] });
    assert_eq!(
        paths(draft, asked()),
        [
            "rigid_links[0]",
            "sections[1].i_yz",
            "beams[2].releases_end[4]",
            "springs[0].behaviour[1]",
            "springs[1].preset[0]",
            "supports[1].dofs[2]",
            "supports[2].axes",
            "load_cases[0].acceleration",
            "load_cases[1].thermal[0]",
            "load_cases[1].prescribed[0]",
        ]
    );
}

#[test]
fn what_is_asked_of_nothing_is_named() {
    let draft = tower(1, 1, &mut Lots(1)).draft().clone();
    let of = |section, property| Varied::Section(SectionId(section), property);
    let asked = BatchAsked {
        varied: vec![
            of(0, SectionProperty::Area),
            of(0, SectionProperty::Area),
            of(1, SectionProperty::ShearAreaY),
            of(2, SectionProperty::Area),
            Varied::Spring(SpringId(5), Dof::Ux),
        ],
        moduli: vec![MODULI],
        displacements: vec![NodeId(99)],
        end_forces: false,
    };
    let expected =
        ["moduli", "displacements[0]", "varied[1]", "varied[2]", "varied[3]", "varied[4]"];
    assert_eq!(paths(draft, asked), expected);
    let mut draft = tower(1, 1, &mut Lots(1)).draft().clone();
    draft.load_cases.clear();
    assert_eq!(paths(draft, self::asked()), ["load_cases"]);
}

#[test]
fn numbers_that_cannot_be_used_are_named() {
    let model = tower(1, 1, &mut Lots(1));
    let batch = batch_of(&model);
    let width = batch.numbers_per_design();
    let mut values = numbers(3, &mut Lots(2));
    values[2] = -1.0;
    values[width] = f64::NAN;
    values[width + 13] = 0.0;
    values[2 * width + 14] = -2.0;
    let Err(BatchError::Unusable(faults)) = batch.solve(&values, ONE, &RunToEnd) else {
        panic!("negative and missing numbers were taken")
    };
    let paths: Vec<&str> = faults.iter().map(|f| f.path.as_str()).collect();
    let last = format!("values[{}]", 2 * width + 14);
    // A spring of no stiffness is none: the value in place 13 of the second design may be 0.
    assert_eq!(paths, ["values[2]", &format!("values[{width}]"), &last]);
    let odd = batch.solve(&values[..width + 1], ONE, &RunToEnd);
    assert!(matches!(odd, Err(BatchError::Unusable(faults)) if faults[0].path == "values"));
}
