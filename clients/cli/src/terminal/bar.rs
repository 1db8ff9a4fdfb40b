//! The bar of a row: the limit stands in the middle.

use fishplate_proto::v1::State;

/// A bar with `cells` cells up to the limit and one less behind it.
///
/// Below the limit cells are rounded down, so that a full bar never means "holds". Beyond the
/// limit the bar ends torn; where it does not fit, it is cut.
pub(crate) fn bar(state: State, utilisation: Option<f64>, cells: usize) -> String {
    let behind = cells - 1;
    match (state, utilisation) {
        (State::Holds, Some(u)) => {
            let full = count(u, cells).clamp(1, cells - 1);
            format!("{}{}│{}", "━".repeat(full), " ".repeat(cells - full), " ".repeat(behind))
        }
        (State::Exceeds, Some(u)) => {
            let beyond = count(u - 1.0, cells).max(1);
            let tail = if u.is_finite() && beyond <= behind {
                format!("{}╱{}", "━".repeat(beyond - 1), " ".repeat(behind - beyond))
            } else {
                // Cut with a gap: how far it goes on is not drawn.
                let end = "━━╱";
                format!("{}╱ {end}", "━".repeat(behind - 5))
            };
            format!("{}│{tail}", "━".repeat(cells))
        }
        // A yes or no without a number has no length; hatching is for what is not checked alone.
        (State::Holds | State::Exceeds, None) => {
            format!("{}│{}", " ".repeat(cells), " ".repeat(behind))
        }
        (State::NotChecked | State::RuleNotMet | State::Unspecified, _) => {
            format!("{}│{}", "╌".repeat(cells), " ".repeat(behind))
        }
    }
}

/// Whole cells of `part`, rounded down; none for what is no number.
fn count(part: f64, cells: usize) -> usize {
    // A few cells at most are ever drawn: the cast saturates and NaN becomes 0.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)]
    let whole = (part * cells as f64).floor() as usize;
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_bar_never_means_holds() {
        assert_eq!(bar(State::Holds, Some(0.62), 8), "━━━━    │       ");
        assert_eq!(bar(State::Holds, Some(0.31), 8), "━━      │       ");
        assert_eq!(bar(State::Holds, Some(0.001), 8), "━       │       ");
        assert_eq!(bar(State::Holds, Some(1.0), 8), "━━━━━━━ │       ");
    }

    #[test]
    fn beyond_the_limit_the_end_is_torn() {
        assert_eq!(bar(State::Exceeds, Some(1.65), 8), "━━━━━━━━│━━━━╱  ");
        assert_eq!(bar(State::Exceeds, Some(1.000_001), 8), "━━━━━━━━│╱      ");
        assert_eq!(bar(State::Exceeds, Some(3.48), 8), "━━━━━━━━│━━╱ ━━╱");
        assert_eq!(bar(State::Exceeds, Some(f64::INFINITY), 8), "━━━━━━━━│━━╱ ━━╱");
        assert_eq!(bar(State::Exceeds, Some(1.65), 12), "━━━━━━━━━━━━│━━━━━━╱    ");
        assert_eq!(bar(State::Exceeds, Some(3.48), 12), "━━━━━━━━━━━━│━━━━━━╱ ━━╱");
    }

    #[test]
    fn what_is_not_checked_is_hatched_to_the_limit() {
        assert_eq!(bar(State::NotChecked, None, 8), "╌╌╌╌╌╌╌╌│       ");
        assert_eq!(bar(State::Unspecified, None, 8), "╌╌╌╌╌╌╌╌│       ");
        assert_eq!(bar(State::NotChecked, Some(0.5), 8), "╌╌╌╌╌╌╌╌│       ");
        assert_eq!(bar(State::Holds, None, 8), "        │       ");
    }
}
