//! The cells of a midline: the faces of its drawing, and the flow round each.

use std::collections::BTreeMap;

use super::midline::Midline;

impl Midline {
    /// Shear flow round each cell, positive from +y towards +z, under a unit torque about +x, N/m per N m; nothing
    /// for an open section. The walls' own flows are [`Midline::torsion_flows`].
    ///
    /// Cells are the bounded faces of the drawing, in the order in which the walls first meet them. What flows in a
    /// wall is the flow of the cell on its left less that of the cell on its right, and outside nothing flows; so
    /// the flows of the walls, one step from the outside to the inside after the other, give those of the cells.
    #[must_use]
    pub fn cell_flows(&self) -> Vec<f64> {
        let walls = self.walls();
        let flows = self.torsion_flows();
        let nodes = self.nodes();
        // Side 2 i of wall i looks from its first node to its second, side 2 i + 1 back.
        let ends = |side: usize| {
            let wall = walls[side / 2];
            if side.is_multiple_of(2) { (wall.from, wall.to) } else { (wall.to, wall.from) }
        };
        let heading = |side: usize| {
            let (from, to) = ends(side);
            (nodes[to].1 - nodes[from].1).atan2(nodes[to].0 - nodes[from].0)
        };
        let mut around: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for side in 0..2 * walls.len() {
            around.entry(ends(side).0).or_default().push(side);
        }
        for sides in around.values_mut() {
            sides.sort_by(|a, b| heading(*a).total_cmp(&heading(*b)));
        }
        // Keeping a face on the left: arrive, and leave by the next wall clockwise from the way back.
        let next = |side: usize| {
            let back = side ^ 1;
            let sides = &around[&ends(side).1];
            let at = sides.iter().position(|s| *s == back);
            let at = at.expect("a wall's way back starts where the wall ends");
            sides[(at + sides.len() - 1) % sides.len()]
        };
        let mut face_of = vec![usize::MAX; 2 * walls.len()];
        let mut areas = Vec::new();
        for first in 0..face_of.len() {
            let mut side = first;
            let mut area = 0.0;
            while face_of[side] == usize::MAX {
                face_of[side] = areas.len();
                let (from, to) = ends(side);
                area += nodes[from].0 * nodes[to].1 - nodes[to].0 * nodes[from].1;
                side = next(side);
            }
            if face_of[first] == areas.len() {
                areas.push(area);
            }
        }
        // The face outside is gone round clockwise: its area is the one that is not positive.
        let mut flow: Vec<Option<f64>> =
            areas.iter().map(|area| (*area <= 0.0).then_some(0.0)).collect();
        for _ in 0..areas.len() {
            for (wall, q) in flows.iter().enumerate() {
                let (left, right) = (face_of[2 * wall], face_of[2 * wall + 1]);
                match (flow[left], flow[right]) {
                    (None, Some(known)) => flow[left] = Some(known + q),
                    (Some(known), None) => flow[right] = Some(known - q),
                    _ => {}
                }
            }
        }
        areas.iter().zip(flow).filter(|(area, _)| **area > 0.0).filter_map(|(_, q)| q).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Midline, MidlineWall};

    // Bredt and Batho for two cells, closed form: q1 = K (a1/b1 ...) solved by hand as two
    // equations 2 A_i G theta = q_i sum(l/t)_i - q_j l_w/t_w, with T = 2 sum(A q). Megson,
    // Aircraft Structures for Engineering Students, chapter on multicell sections.
    #[test]
    fn two_cells_by_the_two_equations() {
        let [w1, w2, h, t1, t2, tw] = [0.060, 0.040, 0.050, 0.002, 0.003, 0.0015];
        let nodes = vec![(0.0, 0.0), (w1, 0.0), (w1 + w2, 0.0), (w1 + w2, h), (w1, h), (0.0, h)];
        let wall = |from, to, t| MidlineWall { from, to, t };
        let walls = vec![
            wall(0, 1, t1),
            wall(2, 1, t2),
            wall(2, 3, t2),
            wall(3, 4, t2),
            wall(4, 5, t1),
            wall(0, 5, t1),
            wall(1, 4, tw),
        ];
        let flows = Midline::new(nodes, walls).unwrap().cell_flows();
        let (a1, a2) = (w1 * h, w2 * h);
        let shared = h / tw;
        let d1 = (2.0 * w1 + h) / t1 + shared;
        let d2 = (2.0 * w2 + h) / t2 + shared;
        // Cramer's rule for q1, q2 at unit twist, then scaled to unit torque.
        let det = d1 * d2 - shared * shared;
        let q1 = 2.0 * (a1 * d2 + a2 * shared) / det;
        let q2 = 2.0 * (a2 * d1 + a1 * shared) / det;
        let torque = 2.0 * (a1 * q1 + a2 * q2);
        assert_eq!(flows.len(), 2);
        assert!((flows[0] / (q1 / torque) - 1.0).abs() < 1e-12, "{flows:?}");
        assert!((flows[1] / (q2 / torque) - 1.0).abs() < 1e-12, "{flows:?}");
    }

    #[test]
    fn an_open_drawing_has_no_cell() {
        let nodes = vec![(0.0, 0.0), (0.1, 0.0), (0.1, 0.1)];
        let wall = |from, to| MidlineWall { from, to, t: 0.002 };
        let open = Midline::new(nodes, vec![wall(0, 1), wall(1, 2)]).unwrap();
        assert!(open.cell_flows().is_empty());
    }
}
