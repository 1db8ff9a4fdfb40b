//! Plates, folded brackets, bars, gussets, sleeves, blocks.

use std::f64::consts::FRAC_PI_4;

use fishplate_mounts::describe::{
    Bar, BarShape, Block, BlockPlan, Direction, FoldOpening, FoldedU, Form, Gusset, Outline, Part,
    Place, Plate, Sleeve,
};
use fishplate_proto::v1;

use super::car::needed_length;
use super::required;
use crate::from_proto::Reader;
use crate::from_proto::quantity::{length, place, places, side};
use crate::path::Path;
use crate::units::{DEG, MM};

pub(super) fn part(reader: &mut Reader, path: &Path<'_>, given: v1::Part) -> Option<Part> {
    use v1::part::Form as Wire;
    let only = side(given.only());
    let v1::Part { name, datums, only: _, steel, form } = given;
    let form = match form {
        Some(Wire::Plate(given)) => plate(reader, &path.field("plate"), given).map(Form::Plate),
        Some(Wire::Folded(given)) => folded(reader, &path.field("folded"), given).map(Form::Folded),
        Some(Wire::Bar(given)) => bar(reader, &path.field("bar"), given).map(Form::Bar),
        Some(Wire::Gusset(given)) => gusset(reader, &path.field("gusset"), given).map(Form::Gusset),
        Some(Wire::Sleeve(given)) => sleeve(reader, &path.field("sleeve"), given).map(Form::Sleeve),
        Some(Wire::Block(given)) => block(reader, &path.field("block"), given).map(Form::Block),
        None => {
            let allowed = "`plate`, `folded`, `bar`, `gusset`, `sleeve` or `block`";
            reader.refuse(path, "a part without a form", allowed, "");
            None
        }
    };
    Some(Part { name, datums, only, steel, form: form? })
}

fn plate(reader: &mut Reader, path: &Path<'_>, given: v1::Plate) -> Option<Plate> {
    let outline = given.outline();
    let v1::Plate {
        thickness,
        on,
        centre,
        size,
        outline: _,
        end_angle_deg,
        corners,
        from,
        to,
        fishplate_ends_deg,
    } = given;
    let thickness = needed_length(reader, &path.field("thickness"), thickness);
    let outline = if from.is_some() || to.is_some() {
        let from = needed_length(reader, &path.field("from"), from);
        let to = needed_length(reader, &path.field("to"), to);
        from.zip(to).map(|(from, to)| Outline::Mouth { from, to })
    } else {
        let end_angle = end_angle_deg.map_or(FRAC_PI_4, |angle| angle * DEG);
        outline_of(reader, path, outline, (size, end_angle, corners))
    };
    Some(Plate {
        thickness: thickness?,
        on,
        centre: centre.map(place),
        outline: outline?,
        fishplate: fishplate_ends_deg.map(|angle| angle * DEG),
    })
}

fn outline_of(
    reader: &mut Reader,
    path: &Path<'_>,
    outline: v1::Outline,
    (size, end_angle, corners): (Option<v1::Point>, f64, Vec<v1::Point>),
) -> Option<Outline> {
    match outline {
        v1::Outline::Unspecified => reader.unset(&path.field("outline"), "Outline"),
        v1::Outline::Rectangle => {
            needed_place(reader, &path.field("size"), size).map(Outline::Rectangle)
        }
        v1::Outline::Spear => needed_place(reader, &path.field("size"), size)
            .map(|size| Outline::Spear { size, end_angle }),
        v1::Outline::Points => {
            if corners.len() < 3 {
                let given = format!("{} corners", corners.len());
                reader.refuse(&path.field("corners"), given, "at least 3", "");
                return None;
            }
            Some(Outline::Points(places(corners)))
        }
    }
}

fn folded(reader: &mut Reader, path: &Path<'_>, given: v1::FoldedU) -> Option<FoldedU> {
    let open = match given.open() {
        v1::FoldOpening::Unspecified => reader.unset(&path.field("open"), "FoldOpening"),
        v1::FoldOpening::Up => Some(FoldOpening::Up),
        v1::FoldOpening::Down => Some(FoldOpening::Down),
    };
    let v1::FoldedU { thickness, on, centre, foot, reach, open: _ } = given;
    let thickness = needed_length(reader, &path.field("thickness"), thickness);
    let centre = needed_place(reader, &path.field("centre"), centre);
    let foot = needed_place(reader, &path.field("foot"), foot);
    let reach = needed_length(reader, &path.field("reach"), reach);
    Some(FoldedU {
        thickness: thickness?,
        on,
        centre: centre?,
        foot: foot?,
        reach: reach?,
        open: open?,
    })
}

fn bar(reader: &mut Reader, path: &Path<'_>, given: v1::Bar) -> Option<Bar> {
    let legs: Vec<v1::Direction> = given.legs().collect();
    let v1::Bar { section, line, legs: _, between } = given;
    let shape = required(reader, &path.field("section"), section, bar_shape);
    let line = needed_place(reader, &path.field("line"), line);
    let legs: Vec<Option<Direction>> = legs
        .into_iter()
        .enumerate()
        .map(|(index, leg)| direction(reader, &path.place("legs", index), leg))
        .collect();
    let legs: Option<Vec<Direction>> = legs.into_iter().collect();
    Some(Bar { shape: shape?, line: line?, legs: legs?, between })
}

fn bar_shape(reader: &mut Reader, path: &Path<'_>, given: v1::BarSection) -> Option<BarShape> {
    use v1::bar_section::Shape;
    let v1::BarSection { shape } = given;
    Some(match shape {
        Some(Shape::Angle(v1::AngleBar { leg_a_mm, leg_b_mm, thickness_mm })) => BarShape::Angle {
            leg_a: leg_a_mm * MM,
            leg_b: leg_b_mm * MM,
            thickness: thickness_mm * MM,
        },
        Some(Shape::Box(v1::BoxBar { height_mm, width_mm, wall_mm })) => {
            BarShape::Box { height: height_mm * MM, width: width_mm * MM, wall: wall_mm * MM }
        }
        Some(Shape::Tube(v1::TubeBar { diameter_mm, wall_mm })) => {
            BarShape::Tube { diameter: diameter_mm * MM, wall: wall_mm * MM }
        }
        Some(Shape::Flat(v1::FlatBar { height_mm, width_mm })) => {
            BarShape::Flat { height: height_mm * MM, width: width_mm * MM }
        }
        None => {
            reader.refuse(path, "no shape", "`angle`, `box`, `tube` or `flat`", "");
            return None;
        }
    })
}

fn direction(reader: &mut Reader, path: &Path<'_>, given: v1::Direction) -> Option<Direction> {
    let (axis, positive) = match given {
        v1::Direction::Unspecified => return reader.unset(path, "Direction"),
        v1::Direction::XPlus => (0, true),
        v1::Direction::XMinus => (0, false),
        v1::Direction::YPlus => (1, true),
        v1::Direction::YMinus => (1, false),
        v1::Direction::ZPlus => (2, true),
        v1::Direction::ZMinus => (2, false),
    };
    Some(Direction { axis, positive })
}

fn gusset(reader: &mut Reader, path: &Path<'_>, given: v1::Gusset) -> Option<Gusset> {
    let v1::Gusset { thickness, corner, legs, at } = given;
    let thickness = needed_length(reader, &path.field("thickness"), thickness);
    let legs = needed_place(reader, &path.field("legs"), legs);
    Some(Gusset { thickness: thickness?, corner, legs: legs?, at: places(at) })
}

fn sleeve(reader: &mut Reader, path: &Path<'_>, given: v1::Sleeve) -> Option<Sleeve> {
    let v1::Sleeve { outside_mm, bore_mm, spans, at, proud, length: own } = given;
    let proud = length(reader, &path.field("proud"), proud);
    let own = length(reader, &path.field("length"), own);
    if proud.is_some() && own.is_some() {
        reader.refuse(&path.field("length"), "`length` and `proud`", "one of them", "");
        return None;
    }
    Some(Sleeve {
        outside: outside_mm * MM,
        bore: bore_mm * MM,
        spans,
        at: places(at),
        proud,
        length: own,
    })
}

fn block(reader: &mut Reader, path: &Path<'_>, given: v1::Block) -> Option<Block> {
    let v1::Block { plan, height, on, centre, bore_mm } = given;
    let plan = match plan {
        Some(v1::block::Plan::RoundMm(diameter)) => Some(BlockPlan::Round(diameter * MM)),
        Some(v1::block::Plan::SquareMm(side)) => Some(BlockPlan::Square(side * MM)),
        None => {
            reader.refuse(path, "a block without a plan", "`round_mm` or `square_mm`", "");
            None
        }
    };
    let height = needed_length(reader, &path.field("height"), height);
    let centre = needed_place(reader, &path.field("centre"), centre);
    Some(Block {
        plan: plan?,
        height: height?,
        on,
        centre: centre?,
        bore: bore_mm.map(|bore| bore * MM),
    })
}

fn needed_place(reader: &mut Reader, path: &Path<'_>, given: Option<v1::Point>) -> Option<Place> {
    reader.required(path, given).map(place)
}
