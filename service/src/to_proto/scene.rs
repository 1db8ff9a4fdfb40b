//! Geometry to draw.

use fishplate_mounts::scene::{BoltLine, Scene, Solid, WeldLine};
use fishplate_proto::v1;

use super::check::{Names, place};
use crate::units::{MM, MPA};

/// What there is to draw.
pub(super) fn scene(names: &Names, scene: Scene) -> v1::Scene {
    let Scene { solids, welds, bolts, wheels } = scene;
    v1::Scene {
        solids: solids.into_iter().map(|one| solid(names, one)).collect(),
        welds: welds.into_iter().map(|one| weld(names, one)).collect(),
        bolts: bolts.into_iter().map(|one| bolt(names, one)).collect(),
        wheels: wheels
            .into_iter()
            .map(|(centre, radius)| v1::Wheel {
                centre: Some(place(centre)),
                radius_mm: radius / MM,
            })
            .collect(),
    }
}

fn solid(names: &Names, solid: Solid) -> v1::Solid {
    let Solid { name, kind, mount, faces } = solid;
    let polygon = |face: Vec<_>| v1::Polygon { corners: face.into_iter().map(place).collect() };
    v1::Solid {
        name,
        kind: kind.to_owned(),
        mount_id: names.mount(mount),
        faces: faces.into_iter().map(polygon).collect(),
    }
}

fn weld(names: &Names, weld: WeldLine) -> v1::WeldLine {
    let WeldLine { name, mount, start, end, leg, stress: [start_stress, end_stress] } = weld;
    v1::WeldLine {
        name,
        mount_id: names.mount(mount),
        start: Some(place(start)),
        end: Some(place(end)),
        leg_mm: leg / MM,
        start_stress_mpa: start_stress / MPA,
        end_stress_mpa: end_stress / MPA,
    }
}

fn bolt(names: &Names, bolt: BoltLine) -> v1::BoltLine {
    let BoltLine { name, mount, low, high, diameter, washer } = bolt;
    v1::BoltLine {
        name,
        mount_id: names.mount(mount),
        // The engine tells the ends by height; which one bears the head is not described.
        head: Some(place(low)),
        nut: Some(place(high)),
        diameter_mm: diameter / MM,
        washer_mm: washer / MM,
    }
}
