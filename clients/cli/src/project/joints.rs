//! `[weld.*]`, `[bolt.*]`.

use fishplate_proto::v1;

use super::document::{Entry, Section};
use super::parts::points;
use super::phrase::{self, Bead};

const PATHS: [(&str, v1::WeldPath); 8] = [
    ("walls", v1::WeldPath::Walls),
    ("foot", v1::WeldPath::Foot),
    ("all round", v1::WeldPath::AllRound),
    ("long edges", v1::WeldPath::LongEdges),
    ("leg x", v1::WeldPath::LegX),
    ("leg y", v1::WeldPath::LegY),
    ("leg z", v1::WeldPath::LegZ),
    ("both legs", v1::WeldPath::BothLegs),
];

pub(super) fn weld((name, section): (String, Section<'_>)) -> v1::Weld {
    let joins =
        section.need("joins", "joins", "[\"part.front-bracket\", \"rail.frame.web.outboard\"]");
    let mut weld = v1::Weld {
        name,
        datums: section.get("datum", "datums").map_or(Vec::new(), |d| d.texts(None)),
        only: section.only(),
        joins: joins.map_or(Vec::new(), |j| j.texts(Some(2))),
        gap: section.quantity("gap", "gap"),
        sealed: section.get("sealed", "sealed").and_then(|s| s.yes()).unwrap_or_default(),
        workmanship: workmanship(&section, "workmanship."),
        ..v1::Weld::default()
    };
    let bead = section.need("bead", "bead", "\"fillet leg 4 mm\"").and_then(|entry| {
        for field in ["leg", "plug_diameter", "both_sides"] {
            entry.also(&format!("{}.{field}", section.path));
        }
        entry.read(phrase::bead)
    });
    match bead {
        Some(Bead::Fillet { leg, both_sides }) => {
            weld.bead = v1::BeadKind::Fillet as i32;
            weld.leg = Some(leg);
            weld.both_sides = both_sides;
            if let Some(along) = section.need("along", "along", "\"all round\"") {
                path(&mut weld, &along);
            }
            if let Some((on, off)) =
                section.get("pattern", "stitch_on_mm").and_then(|p| p.read(phrase::stitches))
            {
                weld.stitch_on_mm = Some(on);
                weld.stitch_off_mm = Some(off);
            }
        }
        Some(Bead::Plug(diameter)) => {
            weld.fused = section.quantity("fused", "fused");
            weld.bead = v1::BeadKind::Plug as i32;
            weld.plug_diameter = Some(diameter);
            weld.points = section
                .need("at", "points", "[\"x -40, z 20 mm\", \"x 40, z 20 mm\"]")
                .map_or(Vec::new(), |at| points(&at, 2));
        }
        // The fault of the bead is enough: which other keys belong depends on it.
        None => return weld,
    }
    section.finish();
    weld
}

/// `[welding]`: who makes the welds.
pub(super) fn welding(section: Section<'_>) -> Option<v1::Workmanship> {
    let made = workmanship(&section, "");
    if made.is_none() {
        section.fault(
            "[welding] does not say `quality`",
            "add for example: quality = \"0.8\": the share of the full strength that is relied on",
        );
    }
    section.finish();
    made
}

/// `quality`, `welded_by`, `inspected`: together or not at all.
fn workmanship(section: &Section<'_>, within: &str) -> Option<v1::Workmanship> {
    let quality = section.number("quality", &format!("{within}quality"));
    let words = |key: &'static str, example: &str| {
        let field = format!("{within}{key}");
        let entry = if quality.is_some() {
            section.need(key, &field, example)
        } else {
            section.get(key, &field)
        };
        let text = entry.as_ref().and_then(Entry::text).unwrap_or_default().to_owned();
        if quality.is_none()
            && let Some(entry) = entry
        {
            entry.fault(
                format!("`{key}` stands without `quality`"),
                "add for example: quality = \"0.8\": the share of the full strength that is relied on",
            );
        }
        text
    };
    let welded_by = words("welded_by", "\"a friend with a wire set, on his back\"");
    let inspected = words("inspected", "\"by eye only\"");
    Some(v1::Workmanship { quality: Some(quality?), welded_by, inspected })
}

/// A named path, or a polyline of points.
fn path(weld: &mut v1::Weld, along: &Entry<'_>) {
    if along.is_list() {
        weld.along = v1::WeldPath::Points as i32;
        weld.points = points(along, 2);
    } else {
        let path = along.choice(&PATHS).unwrap_or(v1::WeldPath::Unspecified);
        weld.along = path as i32;
    }
}

pub(super) fn bolt((name, section): (String, Section<'_>)) -> v1::Bolt {
    let size = section.need("size", "thread", "\"M14 10.9\"").and_then(|entry| {
        entry.also(&format!("{}.class", section.path));
        entry.read(phrase::bolt)
    });
    let (thread, class) = size.unwrap_or_default();
    let washer = section.get("washer", "washer_outside_mm").and_then(|entry| {
        entry.also(&format!("{}.washer_thickness_mm", section.path));
        entry.read(phrase::washer)
    });
    let faces = [
        ("bare", v1::FacePreparation::Bare),
        ("painted", v1::FacePreparation::Painted),
        ("blasted", v1::FacePreparation::Blasted),
        ("zinc", v1::FacePreparation::Zinc),
    ];
    let through =
        section.need("through", "through", "[\"mount.front\", \"part.front-bracket.floor\"]");
    let tighten = section.need(
        "tighten",
        "tightening",
        "\"torque wrench, scatter 1.6, thread friction 0.14\"",
    );
    let bolt = v1::Bolt {
        name,
        datums: section.get("datum", "datums").map_or(Vec::new(), |d| d.texts(None)),
        only: section.only(),
        thread,
        class,
        through: through.map_or(Vec::new(), |t| t.texts(None)),
        at: section.get("at", "at").map_or(Vec::new(), |at| points(&at, 2)),
        hole: section.need_quantity("hole", "hole", "\"15 mm\""),
        washer_outside_mm: washer.map(|w| w.0),
        washer_thickness_mm: washer.map(|w| w.1),
        faces: section
            .need("faces", "faces", "\"bare\"")
            .and_then(|entry| entry.choice(&faces))
            .unwrap_or(v1::FacePreparation::Unspecified) as i32,
        friction: section.need_number("friction", "friction", "\"~0.20\""),
        tightening: tighten.and_then(|entry| entry.read(phrase::tightening)),
        ends: section.get("ends", "ends").and_then(|entry| {
            for field in ["kind", "nut_class", "outside", "length", "leg", "fu"] {
                entry.also(&format!("{}.ends.{field}", section.path));
            }
            entry.read(phrase::bolt_end)
        }),
    };
    section.finish();
    bolt
}
