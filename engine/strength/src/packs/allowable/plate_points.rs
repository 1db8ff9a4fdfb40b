//! Points of plates, and buckling of plates under all their stresses together.

use fishplate_quantity::{Dimension, Source, step};

use crate::clause::input::{PlateBucklingInput, PlatePointInput};
use crate::clause::{Aspect, Checked};
use crate::packs::pack::Clauses;
use crate::packs::plane::{at_faces, slender};

use super::rule::{Rule, always};
use super::{N_U, N_Y};

pub(super) const PLATE_POINTS: Clauses<PlatePointInput> = &[&FACES];
pub(super) const PLATE_BUCKLING: Clauses<PlateBucklingInput> = &[&BUCKLING];

const FACES_SOURCE: Source = Source::practice("first yield at a face of a plate");
const BUCKLING_SOURCE: Source = Source::practice("safety against elastic buckling of a plate");

static FACES: Rule<PlatePointInput> = Rule {
    source: FACES_SOURCE,
    title: "first yield at a face of the plate",
    short: "plate, first yield",
    aspect: Aspect::Whole,
    applies: always,
    formula: |input, factors, trace| {
        let sigma = at_faces(input, trace);
        let f_y = input.f_y(trace);
        let n_y = factors.value(N_Y, trace);
        step!(trace, Stress, FACES_SOURCE, "allowable stress"; sigma_allow(f_y, n_y) = f_y / n_y);
        step!(trace, Ratio, FACES_SOURCE, "utilisation";
            utilisation(sigma, sigma_allow) = sigma / sigma_allow);
        Checked::new(sigma, sigma_allow, Dimension::Stress, utilisation)
    },
};

static BUCKLING: Rule<PlateBucklingInput> = Rule {
    source: BUCKLING_SOURCE,
    title: "elastic buckling of the plate",
    short: "plate buckling",
    aspect: Aspect::Whole,
    applies: slender,
    formula: |input, factors, trace| {
        let alpha_cr = input.alpha_cr(trace);
        let n_u = factors.value(N_U, trace);
        step!(trace, Ratio, BUCKLING_SOURCE, "utilisation";
            utilisation(n_u, alpha_cr) = n_u / alpha_cr);
        Checked::new(n_u, alpha_cr, Dimension::Ratio, utilisation)
    },
};
