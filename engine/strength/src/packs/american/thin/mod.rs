//! Thin walls that buckle before they yield: effective widths of AISI S100.
//!
//! Crippling of webs has coefficients by the hundred that this pack does not know: rails clamped
//! without a sleeve are checked for bending of their wall only.

mod element;
#[cfg(test)]
pub(super) mod examples;
mod section;
mod thin_box;

use crate::clause::input::{ElementInput, FlatWallsInput, ThinBoxInput, ThinSectionInput};
use crate::packs::Clauses;

pub(super) const THIN_BOXES: Clauses<ThinBoxInput> = &[&thin_box::ThinBox];
pub(super) const THIN_SECTIONS: Clauses<ThinSectionInput> =
    &[&section::WidthLimits, &section::Added];
pub(super) const FLAT_WALLS: Clauses<FlatWallsInput> =
    &[&section::WidthLimitsWalls, &section::AddedWalls];
pub(super) const ELEMENTS: Clauses<ElementInput> =
    &[&element::EffectiveWidth, &element::CriticalStress];

/// The share of a flat width that stays effective, in three steps: (1.1-1) to (1.1-4) of Appendix 1
/// (B2.1 in the editions up to 2012).
macro_rules! winter {
    ($trace:ident, $source:expr, $wall:literal;
     $f_cr:ident, $lambda:ident, $rho:ident($b:ident, $t:ident, $f_y:ident, $k:ident)) => {
        let e_sheet = $crate::packs::american::e_of_sheet($trace);
        fishplate_quantity::step!($trace, Stress, $source, concat!("plate buckling stress, ", $wall);
            $f_cr($b, $t, $k, e_sheet) =
            $k * PI * PI * e_sheet / (12.0 * (1.0 - 0.3 * 0.3))
                * sq($t / $b));
        fishplate_quantity::step!($trace, Ratio, $source, concat!("slenderness, ", $wall);
            $lambda($f_y, $f_cr) = sqrt($f_y / $f_cr));
        fishplate_quantity::step!($trace, Ratio, $source, concat!("effective share, ", $wall);
            $rho($lambda) =
            if $lambda <= 0.673 { 1.0 } else { smaller(1.0, (1.0 - 0.22 / $lambda) / $lambda) });
    };
}
use winter;
