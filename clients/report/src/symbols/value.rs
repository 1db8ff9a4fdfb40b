//! Which case of an expression applies, by the numbers that are known.
//!
//! Nothing is decided here: the engine has decided, and a case is only named where the numbers of
//! the derivation lead to its very result.

use fishplate_proto::v1;

use super::formula::{Condition, Tree};
use crate::units::si_size;

/// The numbers of a derivation up to one of its steps.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Known<'a> {
    steps: &'a [v1::DerivationStep],
}

impl<'a> Known<'a> {
    pub(crate) fn before(steps: &'a [v1::DerivationStep], step: usize) -> Self {
        Self { steps: steps.get(..step).unwrap_or(steps) }
    }

    /// The last step of that symbol.
    pub(crate) fn step(&self, symbol: &str) -> Option<&'a v1::DerivationStep> {
        self.steps.iter().rev().find(|s| s.symbol == symbol)
    }

    /// The unit of a symbol.
    pub(crate) fn unit(&self, symbol: &str) -> Option<&'a str> {
        self.step(symbol).map(|s| s.unit.as_str())
    }

    /// The value of a symbol in SI.
    fn si(&self, symbol: &str) -> Option<f64> {
        in_si(self.step(symbol)?)
    }
}

fn in_si(step: &v1::DerivationStep) -> Option<f64> {
    Some(step.value * si_size(&step.unit)?)
}

/// The tree with the cases that apply, and the conditions that were met or not; nothing where
/// they are not known, or where they do not lead to the value of `step`.
pub(crate) fn chosen(
    tree: &Tree,
    known: Known<'_>,
    step: &v1::DerivationStep,
) -> Option<(Tree, Vec<Condition>)> {
    let mut reasons = Vec::new();
    let chosen = choose(tree, known, &mut reasons)?;
    agrees(&chosen, known, step).then_some((chosen, reasons))
}

/// Whether the numbers of the derivation, put into `tree`, give the value of `step`.
pub(crate) fn agrees(tree: &Tree, known: Known<'_>, step: &v1::DerivationStep) -> bool {
    let (Some(value), Some(recorded)) = (value(tree, known), in_si(step)) else {
        return false;
    };
    let size = recorded.abs();
    // What the wire rounds when it changes units, and what cancels in a difference, stays far below.
    (value - recorded).abs() <= 1e-6 * size || (value.abs() < 1e-12 && size < 1e-12)
}

fn choose(tree: &Tree, known: Known<'_>, reasons: &mut Vec<Condition>) -> Option<Tree> {
    let mut inner = |t: &Tree| choose(t, known, reasons);
    Some(match tree {
        Tree::Number(..) | Tree::Constant(_) | Tree::Name(_) => tree.clone(),
        Tree::Negative(t) => Tree::Negative(Box::new(inner(t)?)),
        Tree::Binary(mark, a, b) => {
            let a = Box::new(inner(a)?);
            Tree::Binary(*mark, a, Box::new(inner(b)?))
        }
        Tree::Call(name, arguments) => {
            Tree::Call(name.clone(), arguments.iter().map(inner).collect::<Option<_>>()?)
        }
        Tree::Choice(cases, last) => {
            for (condition, result) in cases {
                let met = met(condition, known)?;
                reasons.push(if met { condition.clone() } else { condition.opposite() });
                if met {
                    return choose(result, known, reasons);
                }
            }
            choose(last, known, reasons)?
        }
    })
}

impl Condition {
    /// What holds where this does not.
    fn opposite(&self) -> Self {
        let turned = |sign: char| match sign {
            '<' => '≥',
            '>' => '≤',
            '≤' => '>',
            '≥' => '<',
            '=' => '≠',
            _ => '=',
        };
        let parts = self.parts.iter().map(|(a, s, b)| (a.clone(), turned(*s), b.clone()));
        Self { parts: parts.collect(), all: !self.all }
    }
}

fn met(condition: &Condition, known: Known<'_>) -> Option<bool> {
    let mut met = condition.all;
    for (left, sign, right) in &condition.parts {
        let (left, right) = (value(left, known)?, value(right, known)?);
        let order = left.partial_cmp(&right)?;
        let one = match sign {
            '<' => order.is_lt(),
            '>' => order.is_gt(),
            '≤' => order.is_le(),
            '≥' => order.is_ge(),
            '=' => order.is_eq(),
            _ => order.is_ne(),
        };
        met = if condition.all { met && one } else { met || one };
    }
    Some(met)
}

/// The value of a tree in SI; nothing where a name is not known.
fn value(tree: &Tree, known: Known<'_>) -> Option<f64> {
    let of = |t: &Tree| value(t, known);
    match tree {
        Tree::Number(digits, unit) => {
            Some(digits.replace('_', "").parse::<f64>().ok()? * si_size(unit)?)
        }
        Tree::Constant(_) => Some(std::f64::consts::PI),
        Tree::Name(name) => known.si(name),
        Tree::Negative(t) => Some(-of(t)?),
        Tree::Binary(mark, a, b) => {
            let (a, b) = (of(a)?, of(b)?);
            Some(match mark {
                '+' => a + b,
                '-' => a - b,
                '*' => a * b,
                _ => a / b,
            })
        }
        Tree::Choice(..) => {
            let mut reasons = Vec::new();
            of(&choose(tree, known, &mut reasons)?)
        }
        Tree::Call(name, arguments) => {
            let values = arguments.iter().map(of).collect::<Option<Vec<f64>>>()?;
            called(name, &values)
        }
    }
}

fn called(name: &str, values: &[f64]) -> Option<f64> {
    let more = |a: f64, b: f64| if a >= b { a } else { b };
    let less = |a: f64, b: f64| if a <= b { a } else { b };
    Some(match (name, values) {
        ("sq", [x]) => x * x,
        ("cube", [x]) => x * x * x,
        ("sqrt", [x]) => x.sqrt(),
        ("hypot", [x, y]) => x.hypot(*y),
        ("abs", [x]) => x.abs(),
        ("positive", [x]) => more(*x, 0.0),
        ("larger" | "max", [x, y]) => more(*x, *y),
        ("smaller" | "min", [x, y]) => less(*x, *y),
        ("share", [x, y]) => x / y,
        ("power" | "powf" | "powi", [x, y]) => x.powf(*y),
        ("ln", [x]) => x.ln(),
        ("exp", [x]) => x.exp(),
        ("sin", [x]) => x.sin(),
        ("cos", [x]) => x.cos(),
        ("tan", [x]) => x.tan(),
        ("recip", [x]) => 1.0 / x,
        _ => return None,
    })
}
