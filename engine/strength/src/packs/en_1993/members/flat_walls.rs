//! Thin sections of any shape, as a list of their flat walls.

use fishplate_quantity::{Source, Trace};

use crate::clause::input::FlatWallsInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::{plated, sheet};
use crate::packs::flat_sections::flat_walls as flats;

use super::thin_section::{apart, forces, together, width_limits};

/// Axial force and moments each on the section that it would leave alone, shares added.
pub(super) struct Apart;

impl Clause<FlatWallsInput> for Apart {
    fn reference(&self) -> Source {
        plated("4.3, 4.4 and 4.6(1), any flat walls")
    }

    fn title(&self) -> &'static str {
        "thin section of any flat walls, effective widths under each force"
    }

    fn short(&self) -> &'static str {
        "each force"
    }

    fn applies(&self, _: &FlatWallsInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &FlatWallsInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let section = flats(input, trace)?;
        let forces = forces!(input, trace);
        apart(&section, forces, factors, trace)
    }
}

/// All forces on one section, the walls judged at the stresses that act.
pub(super) struct Together;

impl Clause<FlatWallsInput> for Together {
    fn reference(&self) -> Source {
        plated("4.4(4), slenderness at the stress that acts, any flat walls")
    }

    fn title(&self) -> &'static str {
        "thin section of any flat walls, effective widths at the acting stress"
    }

    fn short(&self) -> &'static str {
        "at the stress"
    }

    fn applies(&self, _: &FlatWallsInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &FlatWallsInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let section = flats(input, trace)?;
        let forces = forces!(input, trace);
        together(&section, forces, factors, trace)
    }
}

/// Walls not so wide that the rules end.
pub(super) struct WidthLimits;

impl Clause<FlatWallsInput> for WidthLimits {
    fn reference(&self) -> Source {
        sheet("Table 5.1, any flat walls")
    }

    fn title(&self) -> &'static str {
        "any flat walls within the widths the rules for thin sections were tried on"
    }

    fn short(&self) -> &'static str {
        "widths"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &FlatWallsInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &FlatWallsInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        width_limits(&flats(input, trace)?, trace)
    }
}
