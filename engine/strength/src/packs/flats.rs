//! Sections made of flat walls, and what local buckling leaves of them.
//!
//! Walls are the midlines of the sheet, joined at sharp corners. Stresses are positive in
//! compression here, because only compressed walls buckle. The effective parts of a wall follow from
//! the stresses at its ends, and these from the effective section: both are repeated until
//! nothing moves.

use fishplate_quantity::algebra::{abs, hypot, larger, smaller, sq};

/// y and z of a point, m.
pub(super) type Point = (f64, f64);

/// One flat wall between two points of the midline.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wall {
    pub(super) name: &'static str,
    pub(super) start: Point,
    pub(super) end: Point,
    pub(super) t: f64,
    /// Whether another wall holds the edge at the start, and at the end.
    pub(super) held: (bool, bool),
}

impl Wall {
    pub(super) fn length(&self) -> f64 {
        hypot(self.end.0 - self.start.0, self.end.1 - self.start.1)
    }

    pub(super) fn at(&self, share: f64) -> Point {
        (
            self.start.0 + share * (self.end.0 - self.start.0),
            self.start.1 + share * (self.end.1 - self.start.1),
        )
    }
}

/// The walls of a section.
#[derive(Debug, Clone)]
pub(super) struct Flats {
    pub(super) walls: Vec<Wall>,
}

/// Area, centroid and second moments of what carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Carrying {
    pub(super) a: f64,
    pub(super) y: f64,
    pub(super) z: f64,
    pub(super) i_y: f64,
    pub(super) i_z: f64,
    pub(super) i_yz: f64,
}

/// Compression, and moments that press the side of positive z (`m_y`) and of positive y (`m_z`).
#[derive(Debug, Clone, Copy)]
pub(super) struct Pressing {
    pub(super) n: f64,
    pub(super) m_y: f64,
    pub(super) m_z: f64,
}

/// Normal stress over the section, compression positive.
#[derive(Debug, Clone, Copy)]
pub(super) struct Field {
    middle: f64,
    along_y: f64,
    along_z: f64,
    centroid: Point,
}

impl Field {
    pub(super) fn at(&self, (y, z): Point) -> f64 {
        self.middle + self.along_y * (y - self.centroid.0) + self.along_z * (z - self.centroid.1)
    }
}

impl Carrying {
    /// Stress under forces that act through the centroid of this section.
    pub(super) fn field(&self, forces: Pressing) -> Field {
        let det = self.i_y * self.i_z - sq(self.i_yz);
        Field {
            middle: forces.n / self.a,
            along_y: (forces.m_z * self.i_y - forces.m_y * self.i_yz) / det,
            along_z: (forces.m_y * self.i_z - forces.m_z * self.i_yz) / det,
            centroid: (self.y, self.z),
        }
    }
}

/// What buckling leaves of one wall: parts from the start to a share, and from a share to the end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Left {
    pub(super) from_start: f64,
    pub(super) to_end: f64,
    pub(super) psi: f64,
    pub(super) k_sigma: f64,
    pub(super) lambda: f64,
    pub(super) rho: f64,
}

impl Left {
    pub(super) const WHOLE: Self =
        Self { from_start: 1.0, to_end: 0.0, psi: 1.0, k_sigma: 0.0, lambda: 0.0, rho: 1.0 };

    /// Share of the wall that is lost.
    pub(super) fn lost(&self) -> f64 {
        smaller(1.0, larger(0.0, 1.0 - self.from_start - self.to_end))
    }
}

/// The rules of a standard about one wall.
pub(super) trait Widths: Copy {
    /// What buckling leaves of a wall held at its start and end or not, with the stresses `at` these, by
    /// its width over thickness.
    fn left(self, held: (bool, bool), at: (f64, f64), ratio: f64) -> Left;
}

/// An effective section at rest.
#[derive(Debug, Clone)]
pub(super) struct Effective {
    pub(super) carrying: Carrying,
    pub(super) left: Vec<Left>,
    pub(super) passes: usize,
}

impl Flats {
    /// A rectangular tube, `h` deep and `b` wide.
    pub(super) fn tube(h: f64, b: f64, t: f64) -> Self {
        let (y, z) = (b / 2.0, h / 2.0);
        let both = (true, true);
        let wall = |name, start, end| Wall { name, start, end, t, held: both };
        let walls = vec![
            wall("top", (-y, z), (y, z)),
            wall("bottom", (-y, -z), (y, -z)),
            wall("right web", (y, -z), (y, z)),
            wall("left web", (-y, -z), (-y, z)),
        ];
        Self { walls }
    }

    /// A channel, its web `h` along z, its flanges `b` towards positive y.
    pub(super) fn channel(h: f64, b: f64, t: f64) -> Self {
        let z = h / 2.0;
        let flange = |name, z| Wall { name, start: (0.0, z), end: (b, z), t, held: (true, false) };
        let web = Wall { name: "web", start: (0.0, -z), end: (0.0, z), t, held: (true, true) };
        Self { walls: vec![web, flange("top flange", z), flange("bottom flange", -z)] }
    }

    /// A hat: top `b` wide, webs `h` deep, brims of `c` outwards below.
    pub(super) fn hat(h: f64, b: f64, c: f64, t: f64) -> Self {
        let y = b / 2.0;
        let both = (true, true);
        let web = |name, y| Wall { name, start: (y, 0.0), end: (y, h), t, held: both };
        let brim = |name, from: f64, to: f64| Wall {
            name,
            start: (from, 0.0),
            end: (to, 0.0),
            t,
            held: (true, false),
        };
        let walls = vec![
            Wall { name: "top", start: (-y, h), end: (y, h), t, held: both },
            web("right web", y),
            web("left web", -y),
            brim("right brim", y, y + c),
            brim("left brim", -y, -y - c),
        ];
        Self { walls }
    }

    /// An angle, its legs `h` along z and `b` along y.
    pub(super) fn angle(h: f64, b: f64, t: f64) -> Self {
        let leg = |name, end| Wall { name, start: (0.0, 0.0), end, t, held: (true, false) };
        Self { walls: vec![leg("leg along z", (0.0, h)), leg("leg along y", (b, 0.0))] }
    }

    /// An I, its web `h` along z, its flanges `b` wide.
    pub(super) fn i_section(h: f64, b: f64, t: f64) -> Self {
        let (y, z) = (b / 2.0, h / 2.0);
        let half = |name, y, z| Wall { name, start: (0.0, z), end: (y, z), t, held: (true, false) };
        let walls = vec![
            Wall { name: "web", start: (0.0, -z), end: (0.0, z), t, held: (true, true) },
            half("top right", y, z),
            half("top left", -y, z),
            half("bottom right", y, -z),
            half("bottom left", -y, -z),
        ];
        Self { walls }
    }

    /// Of the whole walls.
    pub(super) fn gross(&self) -> Carrying {
        self.carrying(&vec![Left::WHOLE; self.walls.len()])
    }

    /// Of what is left of the walls.
    fn carrying(&self, left: &[Left]) -> Carrying {
        let parts = self.walls.iter().zip(left).flat_map(|(wall, left)| {
            [(0.0, left.from_start), (1.0 - left.to_end, 1.0)]
                .map(|(from, to)| (wall.at(from), wall.at(to), wall.t))
        });
        let parts: Vec<_> = parts.collect();
        let area = |(p, q, t): &(Point, Point, f64)| t * hypot(q.0 - p.0, q.1 - p.1);
        let middle =
            |(p, q, _): &(Point, Point, f64)| (f64::midpoint(p.0, q.0), f64::midpoint(p.1, q.1));
        let a: f64 = parts.iter().map(area).sum();
        let y = parts.iter().map(|p| area(p) * middle(p).0).sum::<f64>() / a;
        let z = parts.iter().map(|p| area(p) * middle(p).1).sum::<f64>() / a;
        let mut out = Carrying { a, y, z, i_y: 0.0, i_z: 0.0, i_yz: 0.0 };
        for part in &parts {
            let (own, at) = (area(part), middle(part));
            let (dy, dz) = (part.1.0 - part.0.0, part.1.1 - part.0.1);
            out.i_y += own * (sq(dz) / 12.0 + sq(at.1 - z));
            out.i_z += own * (sq(dy) / 12.0 + sq(at.0 - y));
            out.i_yz += own * (dy * dz / 12.0 + (at.0 - y) * (at.1 - z));
        }
        out
    }

    /// What is left of every wall under `field`; where `only` says no, the wall stays whole.
    fn left(&self, field: &Field, widths: impl Widths, only: &dyn Fn(f64) -> bool) -> Vec<Left> {
        let of_wall = |wall: &Wall| {
            let at = (field.at(wall.start), field.at(wall.end));
            let ratio = wall.length() / wall.t;
            let left = widths.left(wall.held, at, ratio);
            if only(left.psi) { left } else { Left::WHOLE }
        };
        self.walls.iter().map(of_wall).collect()
    }

    /// One pass, as EN 1993-1-5:2006, 4.4(3) allows: walls compressed over all their width by the
    /// stresses of the whole section, then the others with those reduced.
    pub(super) fn one_pass(&self, forces: Pressing, widths: impl Widths) -> Carrying {
        let compressed = self.left(&self.gross().field(forces), widths, &|psi| psi >= 0.0);
        let field = self.carrying(&compressed).field(forces);
        let bent = self.left(&field, widths, &|psi| psi < 0.0);
        let both: Vec<_> = compressed
            .into_iter()
            .zip(bent)
            .map(|(c, b)| if c.lost() > 0.0 { c } else { b })
            .collect();
        self.carrying(&both)
    }

    /// Repeated until nothing moves. `shifted` lets the axial force stay at the centroid of the
    /// whole section while that of the effective one moves away; without it forces follow.
    ///
    /// `None` if it does not come to rest.
    pub(super) fn at_rest(
        &self,
        forces: Pressing,
        widths: impl Widths,
        shifted: bool,
    ) -> Option<Effective> {
        let gross = self.gross();
        let size = self.walls.iter().map(Wall::length).fold(0.0, larger);
        let mut now = gross;
        for passes in 1..=500 {
            let left = self.left(&now.field(now.moved(forces, &gross, shifted)), widths, &|_| true);
            let next = self.carrying(&left);
            let still = abs(next.y - now.y) + abs(next.z - now.z) <= 1e-13 * size
                && abs(next.a - now.a) <= 1e-13 * now.a
                && abs(next.i_y - now.i_y) <= 1e-13 * now.i_y
                && abs(next.i_z - now.i_z) <= 1e-13 * now.i_z;
            if still {
                return Some(Effective { carrying: next, left, passes });
            }
            // Half a step where whole ones go to and fro.
            now = if passes < 60 { next } else { now.halfway(&next) };
        }
        None
    }

    /// The largest stress at any corner, either sign.
    pub(super) fn most(&self, field: &Field) -> f64 {
        let ends = self.walls.iter().flat_map(|w| [w.start, w.end]);
        ends.map(|p| abs(field.at(p))).fold(0.0, larger)
    }

    /// Elastic section modulus of what carries, at the corner that yields first under `forces` of size 1.
    pub(super) fn modulus(&self, carrying: &Carrying, forces: Pressing) -> f64 {
        1.0 / self.most(&carrying.field(forces))
    }

    /// One sentence a wall, for a reader.
    pub(super) fn told(&self, left: &[Left]) -> String {
        let of_wall = |(wall, left): (&Wall, &Left)| {
            if left.k_sigma <= 0.0 {
                return format!("{} pulled", wall.name);
            }
            format!(
                "{}: psi {:.3}, k {:.3}, slenderness {:.3}, share {:.3}, {:.2} of {:.2} mm left",
                wall.name,
                left.psi,
                left.k_sigma,
                left.lambda,
                left.rho,
                (1.0 - left.lost()) * wall.length() * 1e3,
                wall.length() * 1e3
            )
        };
        self.walls.iter().zip(left).map(of_wall).collect::<Vec<_>>().join("; ")
    }
}

impl Carrying {
    /// The forces about the centroid of this section.
    pub(super) fn moved(&self, forces: Pressing, gross: &Self, shifted: bool) -> Pressing {
        if !shifted {
            return forces;
        }
        Pressing {
            n: forces.n,
            m_y: forces.m_y + forces.n * (gross.z - self.z),
            m_z: forces.m_z + forces.n * (gross.y - self.y),
        }
    }

    fn halfway(&self, other: &Self) -> Self {
        let mid = f64::midpoint;
        Self {
            a: mid(self.a, other.a),
            y: mid(self.y, other.y),
            z: mid(self.z, other.z),
            i_y: mid(self.i_y, other.i_y),
            i_z: mid(self.i_z, other.i_z),
            i_yz: mid(self.i_yz, other.i_yz),
        }
    }
}
