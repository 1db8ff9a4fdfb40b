//! Solids for the invented scene.

use fishplate_proto::v1;

pub(crate) fn at(p: [f64; 3]) -> v1::Position {
    v1::Position { x_mm: p[0], y_mm: p[1], z_mm: p[2] }
}

/// A flat outline pushed along an axis from `from` to `to`; `place` puts (u, v, along) in space.
pub(crate) fn pushed(
    outline: &[[f64; 2]],
    [from, to]: [f64; 2],
    place: impl Fn(f64, f64, f64) -> [f64; 3],
) -> Vec<v1::Polygon> {
    let ring = |along: f64| -> Vec<v1::Position> {
        outline.iter().map(|p| at(place(p[0], p[1], along))).collect()
    };
    let (low, high) = (ring(from), ring(to));
    let count = outline.len();
    let mut faces: Vec<v1::Polygon> = (0..count)
        .map(|i| {
            let next = (i + 1) % count;
            v1::Polygon { corners: vec![low[i], low[next], high[next], high[i]] }
        })
        .collect();
    // Both ends go round the same way: the wire promises no sense of faces.
    faces.push(v1::Polygon { corners: low });
    faces.push(v1::Polygon { corners: high });
    faces
}

/// A box between two corners.
pub(crate) fn block(low: [f64; 3], high: [f64; 3]) -> Vec<v1::Polygon> {
    let outline = [[low[0], low[1]], [high[0], low[1]], [high[0], high[1]], [low[0], high[1]]];
    pushed(&outline, [low[2], high[2]], |u, v, along| [u, v, along])
}

/// An upright round bar.
pub(crate) fn round(centre: [f64; 2], radius: f64, z: [f64; 2]) -> Vec<v1::Polygon> {
    let outline: Vec<[f64; 2]> = (0..20u8)
        .map(|k| {
            let turn = std::f64::consts::TAU * f64::from(k) / 20.0;
            [centre[0] + radius * turn.cos(), centre[1] + radius * turn.sin()]
        })
        .collect();
    pushed(&outline, z, |u, v, along| [u, v, along])
}

pub(crate) fn solid(name: &str, kind: &str, mount: &str, faces: Vec<v1::Polygon>) -> v1::Solid {
    v1::Solid { name: name.to_owned(), kind: kind.to_owned(), mount_id: mount.to_owned(), faces }
}
