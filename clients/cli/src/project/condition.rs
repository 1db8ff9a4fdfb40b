//! What rust and tools have done to a rail: `corrosion`, `damage`.

use fishplate_proto::v1;

use super::document::tidy;
use super::phrase::named_lengths;

const CLASSES: [(&str, v1::Corrosivity); 6] = [
    ("C1", v1::Corrosivity::C1),
    ("C2", v1::Corrosivity::C2),
    ("C3", v1::Corrosivity::C3),
    ("C4", v1::Corrosivity::C4),
    ("C5", v1::Corrosivity::C5),
    ("CX", v1::Corrosivity::Cx),
];
const FACES: [(&str, v1::FaceState); 3] = [
    ("sealed", v1::FaceState::Sealed),
    ("unsealed", v1::FaceState::Unsealed),
    ("crevice", v1::FaceState::Crevice),
];

/// `"C4, 20 years, outside sealed, inside unsealed"`, or both faces at once: `"C4, 20 years, outside
/// and inside unsealed"`.
pub(super) fn corrosion(text: &str) -> Result<v1::Corrosion, String> {
    let form = "write \"C4, 20 years, outside sealed, inside unsealed\"; a face is sealed, unsealed \
                or crevice";
    let mut items = text.split(',').map(str::trim);
    let class = items.next().unwrap_or_default();
    let Some((_, class)) = CLASSES.iter().find(|(word, _)| *word == class) else {
        return Err(format!("has {class:?}, where a class from C1 to C5 or CX belongs; {form}"));
    };
    let years = items.next().and_then(|item| {
        let number = item.strip_suffix("years").or_else(|| item.strip_suffix("year"))?;
        number.trim().parse::<f64>().ok().filter(|years| years.is_finite())
    });
    let Some(years) = years else { return Err(format!("does not say for how many years; {form}")) };
    let mut made = v1::Corrosion { years, ..v1::Corrosion::default() };
    made.set_class(*class);
    for item in items {
        let (which, state) = item.rsplit_once(' ').unwrap_or(("", item));
        let Some((_, state)) = FACES.iter().find(|(word, _)| *word == state) else {
            return Err(format!("has {item:?}, which is no face and how it is kept; {form}"));
        };
        let (outside, inside) = match which {
            "outside" => (true, false),
            "inside" => (false, true),
            "outside and inside" | "inside and outside" | "both faces" => (true, true),
            _ => return Err(format!("has the face {which:?}; {form}")),
        };
        if outside {
            made.set_outside(*state);
        }
        if inside {
            made.set_inside(*state);
        }
    }
    if made.outside() == v1::FaceState::Unspecified || made.inside() == v1::FaceState::Unspecified {
        return Err(format!("does not say how both faces are kept; {form}"));
    }
    Ok(made)
}

/// `"hole at x 250 mm"`, `"crack at x -290 mm, right"`, `"patch at x 100 mm"`.
pub(super) fn damage(text: &str) -> Result<v1::Damage, String> {
    let form = "write \"hole at x 250 mm\", also crack or patch, with \", left\" or \", right\" where \
                it is on one side";
    let (what, side) = match text.rsplit_once(',') {
        Some((what, side)) => match side.trim() {
            "left" => (what, v1::Side::Left),
            "right" => (what, v1::Side::Right),
            word => return Err(format!("has {word:?}, where left or right belongs; {form}")),
        },
        None => (text, v1::Side::Unspecified),
    };
    let Some((kind, place)) = what.split_once(" at ") else {
        return Err(format!("does not say what is where; {form}"));
    };
    let kind = match kind.trim() {
        "hole" => v1::DamageKind::Hole,
        "crack" => v1::DamageKind::Crack,
        "patch" => v1::DamageKind::Patch,
        word => return Err(format!("has {word:?}, which is no damage that is known; {form}")),
    };
    let items = named_lengths(place)?;
    let [one] = items.as_slice() else { return Err(format!("has not one place; {form}")) };
    if one.word != "x" {
        return Err(format!("does not give its x; {form}"));
    }
    let mut damage = v1::Damage { x_mm: tidy(one.length.value.as_mm()), ..v1::Damage::default() };
    damage.set_kind(kind);
    damage.set_side(side);
    Ok(damage)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn faces_are_said_together_or_apart() {
        let both = corrosion("C4, 20 years, outside and inside unsealed").unwrap();
        assert_eq!(both.class(), v1::Corrosivity::C4);
        assert_eq!(both.outside(), v1::FaceState::Unsealed);
        assert_eq!(both.inside(), v1::FaceState::Unsealed);
        assert!((both.years - 20.0).abs() < 1e-12);
        let apart = corrosion("CX, 1 year, outside sealed, inside crevice").unwrap();
        assert_eq!(apart.outside(), v1::FaceState::Sealed);
        assert_eq!(apart.inside(), v1::FaceState::Crevice);
    }

    #[test]
    fn what_is_missing_is_named() {
        let told = |text: &str| corrosion(text).unwrap_err();
        assert!(told("20 years").contains("a class from C1"), "{}", told("20 years"));
        assert!(told("C4").contains("how many years"));
        assert!(told("C4, 20 years, outside sealed").contains("both faces"));
        assert!(told("C4, 20 years, roof sealed, inside sealed").contains("the face \"roof\""));
    }

    #[test]
    fn damage_has_a_kind_a_place_and_may_have_a_side() {
        let hole = damage("hole at x 250 mm").unwrap();
        assert_eq!(hole.kind(), v1::DamageKind::Hole);
        assert_eq!(hole.side(), v1::Side::Unspecified);
        assert!((hole.x_mm - 250.0).abs() < 1e-9);
        assert_eq!(damage("crack at x -29 cm, right").unwrap().side(), v1::Side::Right);
        assert!(damage("rust at x 2 mm").unwrap_err().contains("no damage that is known"));
        assert!(damage("hole at y 2 mm").unwrap_err().contains("its x"));
        assert!(damage("hole at x 2 mm, top").unwrap_err().contains("left or right"));
    }
}
