//! Names of the catalogue that give several numbers of a part at once: a thread gives diameters and
//! stress area, a steel its strengths.

use fishplate_quantity::algebra::{abs, larger, smaller};
use fishplate_quantity::{Dimension, Fault, Provenance};

use super::PartKind;
use crate::catalog::{
    CatalogError, Thread, find_bolt_class, find_face_friction, find_hex, find_material,
    find_thread, find_tightening, find_washer,
};
use crate::clause::Factors;
use crate::clause::input::{Family, Field, Given};
use crate::section::SectionShape;

/// A name of the catalogue, by what it is the name of.
#[derive(Debug, Clone, PartialEq)]
pub enum Name {
    /// A thread: `M12`.
    Thread(String),
    /// A property class or grade: `8.8`.
    BoltClass(String),
    /// The form of head and nut: `hex`.
    Head(String),
    /// The standard of a washer: `ISO 7089`.
    Washer(String),
    /// A way of tightening.
    Tightening(String),
    /// The state of clamped faces.
    Faces(String),
    /// A steel.
    Steel {
        /// What its symbols end in: `_1`, or nothing for the steel of the part.
        of: &'static str,
        /// Its name.
        name: String,
        /// The thickness by which its strengths are listed, m; that of the part where left out.
        thickness: Option<f64>,
    },
    /// A section.
    Section {
        /// Its shape.
        shape: Box<SectionShape>,
        /// What it is called.
        name: String,
    },
}

/// A caller with names beside its numbers: what it does not give itself comes from them.
pub struct WithNames<'g> {
    given: &'g mut dyn Given,
    numbers: Vec<(String, Dimension, f64, Provenance)>,
    words: Vec<(&'static str, &'static str)>,
    thread: Option<String>,
}

impl std::fmt::Debug for WithNames<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("WithNames").field("numbers", &self.numbers).finish_non_exhaustive()
    }
}

impl Given for WithNames<'_> {
    fn number(&mut self, field: &Field) -> Option<(f64, Provenance)> {
        self.given.number(field).or_else(|| {
            let fits = |(symbol, dimension, ..): &&(String, Dimension, f64, Provenance)| {
                symbol == field.symbol && *dimension == field.dimension
            };
            let (_, _, value, provenance) = self.numbers.iter().find(fits)?;
            Some((*value, provenance.clone()))
        })
    }

    fn word(&mut self, symbol: &'static str) -> Option<String> {
        self.given.word(symbol).or_else(|| {
            if symbol == "thread" {
                return self.thread.clone();
            }
            let (_, word) = self.words.iter().find(|(known, _)| *known == symbol)?;
            Some((*word).to_owned())
        })
    }

    fn records(&mut self, symbol: &'static str, columns: &[Field]) -> Vec<Vec<Option<f64>>> {
        self.given.records(symbol, columns)
    }
}

/// Puts names, each at its path, beside what a caller gives of `part`; with every name that is not
/// known, that lacks something beside it, or that gives nothing `part` has.
pub fn with_names<'g>(
    part: &PartKind,
    names: &[(&'static str, Name)],
    factors: &Factors,
    given: &'g mut dyn Given,
) -> (WithNames<'g>, Vec<Fault>) {
    let mut filled = WithNames { given, numbers: Vec::new(), words: Vec::new(), thread: None };
    let mut faults = Vec::new();
    let thread = names.iter().find_map(|(path, name)| match name {
        Name::Thread(name) => Some((*path, name)),
        _ => None,
    });
    let thread = thread.and_then(|(path, name)| match find_thread(name) {
        Ok(thread) => {
            filled.thread = Some(name.clone());
            Some(thread)
        }
        Err(why) => {
            faults.push(unknown(path, name, &why));
            None
        }
    });
    // A washer spreads what the head brings: its diameter goes before that of the head. A section
    // may have the thickness that a steel asks for.
    let (first, rest): (Vec<_>, Vec<_>) =
        names.iter().partition(|(_, name)| matches!(name, Name::Washer(_) | Name::Section { .. }));
    for (path, name) in first.into_iter().chain(rest) {
        let before = (filled.numbers.len(), filled.words.len());
        if let Err(fault) = filled.fill(part, path, name, thread.as_ref(), factors) {
            // What hangs on a thread that is not known has no fault of its own.
            faults.extend(fault);
            continue;
        }
        let has = |symbol: &str, dimension: Option<Dimension>| {
            let number = part.fields.iter().any(|field| {
                field.symbol == symbol && dimension.is_none_or(|d| d == field.dimension)
            });
            number || (part.choices)().iter().any(|choice| choice.symbol == symbol)
        };
        let numbers = filled.numbers[before.0..].iter().any(|(s, d, ..)| has(s, Some(*d)));
        let words = filled.words[before.1..].iter().any(|(symbol, _)| has(symbol, None));
        let chosen = matches!(name, Name::Thread(_)) && has("thread", None);
        // A thread also sizes the class, head and washer beside it.
        let sizes = matches!(name, Name::Thread(_))
            && names.iter().any(|(_, other)| {
                matches!(other, Name::BoltClass(_) | Name::Head(_) | Name::Washer(_))
            });
        if !(numbers || words || chosen || sizes) {
            let allowed = format!("a name that gives something a {} has", part.name);
            faults.push(Fault::new(*path, told(name), allowed, "leave it out"));
        }
    }
    (filled, faults)
}

fn unknown(path: &str, name: &str, why: &CatalogError) -> Fault {
    Fault::new(path, format!("`{name}`"), "a name of the catalogue", why.to_string())
}

/// A name as the caller would recognise it.
fn told(name: &Name) -> String {
    let text = match name {
        Name::Thread(text)
        | Name::BoltClass(text)
        | Name::Head(text)
        | Name::Washer(text)
        | Name::Tightening(text)
        | Name::Faces(text) => text,
        Name::Steel { name, .. } | Name::Section { name, .. } => name,
    };
    format!("`{text}`")
}

impl WithNames<'_> {
    fn put(&mut self, symbol: impl Into<String>, dimension: Dimension, value: f64, table: &str) {
        let provenance = Provenance::Table(table.to_owned());
        self.numbers.push((symbol.into(), dimension, value, provenance));
    }

    /// Adds what one name gives; no fault in the error where another name has it.
    fn fill(
        &mut self,
        part: &PartKind,
        path: &'static str,
        name: &Name,
        thread: Option<&Thread>,
        factors: &Factors,
    ) -> Result<(), Option<Fault>> {
        use Dimension::{Area, Length, Ratio, Stress};
        let needs_thread = |what: &str| {
            let advice = format!("the size of the {what} hangs on it");
            Some(Fault::new("named.thread", "nothing", "a thread: M12", advice))
        };
        match name {
            Name::Thread(_) => {
                let thread = thread.ok_or(None)?;
                let limits = &thread.limits;
                for (symbol, dimension, value) in [
                    ("d", Length, thread.d),
                    ("pitch", Length, thread.pitch),
                    ("a_s", Area, thread.a_s),
                    ("d_2", Length, thread.d_2),
                    ("d_3", Length, thread.d_3),
                    ("d_min", Length, limits.d_min),
                    ("d_2_min", Length, limits.d_2_min),
                    ("d_1_nut_max", Length, limits.d_1_nut_max),
                    ("d_2_nut_max", Length, limits.d_2_nut_max),
                ] {
                    self.put(symbol, dimension, value, &format!("thread {}", thread.name));
                }
            }
            Name::BoltClass(name) => {
                let own = self.of_part(part, "d", Length);
                let Some(d) = thread.map(|thread| thread.d).or(own) else {
                    return Err(needs_thread("class"));
                };
                let class = find_bolt_class(name, d).map_err(|e| unknown(path, name, &e))?;
                let table = format!("class {}", class.name);
                for (symbol, dimension, value) in [
                    ("f_ub", Stress, class.f_ub),
                    ("f_yb", Stress, class.f_yb),
                    ("r_m_bolt", Stress, class.r_m_min),
                    ("r_p_bolt", Stress, class.r_p_min),
                    ("alpha_v", Ratio, class.alpha_v),
                ] {
                    self.put(symbol, dimension, value, &table);
                }
                self.words.push(("class", if class.in_en_1993 { "listed" } else { "not-listed" }));
            }
            Name::Head(name) => {
                if name.trim() != "hex" {
                    let advice = "give the diameters of any other head themselves";
                    return Err(Some(Fault::new(path, format!("`{name}`"), "hex", advice)));
                }
                let thread = thread.ok_or_else(|| needs_thread("head"))?;
                let hex = find_hex(thread).map_err(|e| unknown(path, name, &e))?;
                let table = format!("hexagon of {}", hex.size);
                self.put("d_m", Length, hex.d_m(), &table);
                self.put("d_w", Length, hex.d_w, &table);
            }
            Name::Washer(name) => {
                let thread = thread.ok_or_else(|| needs_thread("washer"))?;
                let washer = find_washer(name, thread).map_err(|e| unknown(path, name, &e))?;
                let table = format!("{} {}", washer.standard, washer.size);
                self.put("d_w", Length, washer.d_2, &table);
                self.put("d_h", Length, washer.d_1, &table);
            }
            Name::Tightening(name) => {
                let method = find_tightening(name).map_err(|e| unknown(path, name, &e))?;
                self.put("alpha_a", Ratio, method.alpha_a_most, method.name);
            }
            Name::Faces(name) => {
                let faces = find_face_friction(name).map_err(|e| unknown(path, name, &e))?;
                self.put("mu", Ratio, faces.mu, faces.face);
            }
            Name::Steel { of, name, thickness } => {
                let own = ["t", "t_sheet", "t_wall"].map(|t| self.of_part(part, t, Length));
                let Some(t) = thickness.or_else(|| own.into_iter().flatten().next()) else {
                    let advice = "strengths are listed by thickness, and the part gives none";
                    let allowed = "a thickness";
                    let at = format!("{path}.thickness_mm");
                    return Err(Some(Fault::new(at, "nothing", allowed, advice)));
                };
                let steel = find_material(name, t)
                    .map_err(|e| unknown(&format!("{path}.name"), name, &e))?;
                let table = format!("material {}", steel.name);
                let f_u = steel.f_u_by(factors.strengths());
                self.put(format!("f_y{of}"), Stress, steel.f_y, &table);
                self.put(format!("f_u{of}"), Stress, f_u, &table);
                if of.is_empty() {
                    self.put("r_m_nut", Stress, f_u, &table);
                }
                if let Some(beta_w) = steel.beta_w {
                    self.put(format!("beta_w{of}"), Ratio, beta_w, &table);
                }
            }
            // Elsewhere a width or thickness is not that of a section.
            Name::Section { .. } if part.family != Family::Member => {}
            Name::Section { shape, name } => {
                let table = format!("section {name}");
                for (symbol, dimension, value) in section(part.name, path, name, shape)? {
                    self.put(symbol, dimension, value, &table);
                }
                if let Some(word) = shape_word(shape) {
                    self.words.push(("shape", word));
                }
            }
        }
        Ok(())
    }

    /// A number of `part`, given or by name.
    fn of_part(&mut self, part: &PartKind, symbol: &str, dimension: Dimension) -> Option<f64> {
        let field = part.fields.iter().find(|f| f.symbol == symbol && f.dimension == dimension)?;
        self.number(field).map(|(value, _)| value)
    }
}

/// The kind of a section of a member.
fn shape_word(shape: &SectionShape) -> Option<&'static str> {
    match shape {
        SectionShape::RectangularTube(_) => Some("rectangular-tube"),
        SectionShape::RoundTube(_) => Some("round-tube"),
        SectionShape::Angle(_) => Some("angle"),
        SectionShape::Channel(_) => Some("channel"),
        SectionShape::Flat(_) => Some("rectangle"),
        SectionShape::RoundBar(_) => Some("round-bar"),
        SectionShape::Hat(_) | SectionShape::MultiCell(_) | SectionShape::BuiltUp(_) => None,
    }
}

/// Outside depth and width and the wall, where there is one wall thickness.
fn sizes(shape: &SectionShape) -> Option<(f64, f64, Option<f64>)> {
    let even = |one: f64, other: f64| ((one - other).abs() < 1e-9).then_some(one);
    match shape {
        SectionShape::RectangularTube(s) => {
            let [top, rest @ ..] = s.walls().map(|wall| wall.remaining());
            let t = rest.iter().try_fold(top, |t, wall| even(t, *wall));
            Some((s.height(), s.width(), t))
        }
        SectionShape::RoundTube(s) => Some((s.diameter(), s.diameter(), Some(s.thickness()))),
        SectionShape::Angle(s) => {
            let (v, h) = (s.vertical_leg(), s.horizontal_leg());
            Some((larger(v, h), smaller(v, h), Some(s.thickness())))
        }
        SectionShape::Channel(s) => {
            let t = even(s.web_thickness(), s.flange_thickness());
            Some((s.height(), s.flange_width(), t))
        }
        SectionShape::Flat(s) => {
            Some((s.height(), s.width(), Some(smaller(s.height(), s.width()))))
        }
        SectionShape::RoundBar(s) => Some((s.diameter(), s.diameter(), Some(s.diameter()))),
        SectionShape::Hat(_) | SectionShape::MultiCell(_) | SectionShape::BuiltUp(_) => None,
    }
}

/// The numbers of a section under the symbols of one part.
fn section(
    part: &str,
    path: &str,
    name: &str,
    shape: &SectionShape,
) -> Result<Vec<(&'static str, Dimension, f64)>, Option<Fault>> {
    use Dimension::{Area, Length, SecondMoment, SectionModulus, Warping};
    let p = shape.properties();
    let (a_v_y, a_v_z) = shape.plastic_shear_areas();
    let angle = matches!(shape, SectionShape::Angle(_));
    let (sin, cos) = p.principal_angle.sin_cos();
    let mut numbers = vec![
        ("a", Area, p.area),
        ("i_t", SecondMoment, p.torsion.constant),
        ("i_u", SecondMoment, p.i_max),
        ("i_v", SecondMoment, p.i_min),
    ];
    // What has no warping stiffness leaves its constant out.
    let omega = p.points.iter().map(|point| abs(point.omega)).fold(0.0, larger);
    for (symbol, dimension, value) in [("i_w", Warping, p.warping_constant), ("omega", Area, omega)]
    {
        // A point of a section has a coordinate of its own.
        if value > 0.0 && !(part == "stress_point" && symbol == "omega") {
            numbers.push((symbol, dimension, value));
        }
    }
    if let Some((h, b, t)) = sizes(shape) {
        numbers.extend([("h", Length, h), ("b", Length, b)]);
        numbers.extend(t.map(|t| ("t", Length, t)));
    }
    match part {
        // x of the part lies across, y up.
        "stress_point" => numbers.extend([
            ("i_x", SecondMoment, p.i_y),
            ("i_y", SecondMoment, p.i_z),
            ("i_xy", SecondMoment, p.i_yz),
        ]),
        // Which leg is joined decides; the axis parallel to it is the caller's to give where the
        // legs differ.
        "angle_strut" if (p.i_y - p.i_z).abs() <= 1e-9 * p.i_y => {
            numbers.push(("i_y", SecondMoment, p.i_y));
        }
        "angle_strut" => {}
        // y is the strong principal axis.
        _ if angle => numbers.extend([
            ("y_0", Length, cos * p.shear_centre.y + sin * p.shear_centre.z),
            ("z_0", Length, cos * p.shear_centre.z - sin * p.shear_centre.y),
            ("i_y", SecondMoment, p.i_max),
            ("i_z", SecondMoment, p.i_min),
            ("w_el_y", SectionModulus, p.w_el_max),
            ("w_el_z", SectionModulus, p.w_el_min),
            ("a_v_y", Area, a_v_y),
            ("a_v_z", Area, a_v_z),
        ]),
        _ => {
            if p.i_z > p.i_y * (1.0 + 1e-9) {
                let given = format!("`{name}`, lying");
                let allowed = "a section whose strong axis is y";
                let advice = "turn it upright, and the forces with it";
                return Err(Some(Fault::new(path, given, allowed, advice)));
            }
            numbers.extend([
                ("y_0", Length, p.shear_centre.y),
                ("z_0", Length, p.shear_centre.z),
                ("i_y", SecondMoment, p.i_y),
                ("i_z", SecondMoment, p.i_z),
                ("w_el_y", SectionModulus, p.w_el_y()),
                ("w_el_z", SectionModulus, p.w_el_z()),
                ("w_pl_y", SectionModulus, p.w_pl_y),
                ("w_pl_z", SectionModulus, p.w_pl_z),
                ("a_v_y", Area, a_v_y),
                ("a_v_z", Area, a_v_z),
            ]);
            let round = matches!(shape, SectionShape::RoundTube(_) | SectionShape::RoundBar(_));
            if p.enclosed_area.is_some() || round {
                numbers.push(("c_t", SectionModulus, p.torsion.modulus));
            }
        }
    }
    Ok(numbers)
}
