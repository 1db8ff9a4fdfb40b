//! Fields of plates and of what joins them.

use super::{Field, Unit, XYZ, indexed};
use crate::from_proto::solver::Structure;
use crate::units::{MM, MM2, MPA, N_PER_MM};

pub(super) fn plate(rest: &str) -> Field {
    match rest {
        "thickness" => Field::new("thickness_mm", Unit::Of(MM)),
        "material" => Field::same("material_id"),
        // `elements[5].nodes[2]`
        other => Field::same(&other.replace(".nodes", ".node_ids")),
    }
}

pub(super) fn seam(rest: &str) -> Field {
    match rest {
        "edge" => Field::same("edge_plate_id"),
        "onto" => Field::same("onto_plate_id"),
        other => place(other),
    }
}

pub(super) fn spot(rest: &str) -> Field {
    match rest {
        "diameter" => Field::new("diameter_mm", Unit::Of(MM)),
        other if other.starts_with("plates") => Field::same(&other.replace("plates", "plate_ids")),
        other => place(other),
    }
}

pub(super) fn bolt(rest: &str) -> Field {
    match rest {
        "material" => Field::same("material_id"),
        "tensile_area" => Field::new("tensile_area_mm2", Unit::Of(MM2)),
        "preload" => Field::new("preload_n", Unit::Of(1.0)),
        "bearing" => Field::new("clearance_mm", Unit::Of(MM)),
        "diameter" | "head_bearing" | "nut_bearing" | "hole" => {
            Field::new(format!("{rest}_mm"), Unit::Of(MM))
        }
        other if other.starts_with("through") => {
            Field::same(&other.replace("through", "plate_ids"))
        }
        other => place(other),
    }
}

pub(super) fn contact(rest: &str) -> Field {
    match rest {
        "of" => Field::same("of_plate_id"),
        "onto" => Field::same("onto_plate_id"),
        "gap" | "bridged" | "within.inside" | "within.outside" => {
            Field::new(format!("{rest}_mm"), Unit::Of(MM))
        }
        "stiffness" => Field::new("stiffness_mpa_per_mm", Unit::Of(MPA / MM)),
        "friction" => Field::new("friction", Unit::Of(1.0)),
        other => place(&other.replace("onto.", "ground.")),
    }
}

pub(super) fn spread(rest: &str) -> Field {
    match indexed(rest).0 {
        "node" => Field::new("node_id", Unit::Node),
        "area" => Field::new(rest.replace("area", "area_node_ids"), Unit::Node),
        _ => Field::same(rest),
    }
}

/// Loads on plates in a load case: their entry may have made two loads.
pub(super) fn load(structure: &Structure, case: usize, rest: &str) -> Field {
    let (entry, field) = rest.split_once('.').unwrap_or((rest, ""));
    let (list, place) = indexed(entry);
    let (name, k) = indexed(field);
    if list == "faces" {
        let entry = structure.plates.face_entry(case, place);
        let field = match name {
            "plate" => "plate_id",
            "acts" => "normal_mpa",
            _ => field,
        };
        return Field::same(&format!("face_loads[{entry}].{field}"));
    }
    match name {
        "nodes" => Field::new(format!("edge_loads[{place}].from_node_id"), Unit::Words),
        end => {
            let field = format!("edge_loads[{place}].{end}_n_per_mm.{}", XYZ[k % 3]);
            Field::new(field, Unit::Of(N_PER_MM))
        }
    }
}

/// A component of a place: `head[1]` becomes `head.y_mm`. Others stay as they are.
fn place(rest: &str) -> Field {
    let (name, k) = indexed(rest);
    let own = name.rsplit('.').next().unwrap_or(name);
    if name != rest && matches!(own, "centre" | "head" | "nut" | "point") {
        return Field::new(format!("{name}.{}_mm", XYZ[k % 3]), Unit::Of(MM));
    }
    Field::same(rest)
}
