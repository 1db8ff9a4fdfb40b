//! Section properties: D01 to D10.

use fishplate_proto::v1;
use fishplate_proto::v1::section_shape::Shape;
use fishplate_proto::v1::{TorsionTheory, section};
use fishplate_tests::sheet::{Line, Sheet, assert_close};
use fishplate_tests::structure::Structure;

pub(crate) const DATA: &str = include_str!("../../data/sections.json");

fn asked(shape: Shape, torsion: TorsionTheory) -> v1::SectionAnswer {
    let mut structure = Structure::default();
    structure.0.sections.push(v1::Section {
        id: "s".to_owned(),
        definition: Some(section::Definition::Shape(v1::SectionShape { shape: Some(shape) })),
        torsion: torsion.into(),
        ..Default::default()
    });
    structure.solved().section(0).clone()
}

fn of(shape: Shape) -> v1::SectionAnswer {
    asked(shape, TorsionTheory::Unspecified)
}

fn known(value: Option<f64>) -> f64 {
    value.unwrap_or(f64::NAN)
}

fn d01() -> Vec<Line> {
    let tube = Shape::RectangularTube(v1::RectangularTubeShape {
        height_mm: 100.0,
        width_mm: 50.0,
        thickness_mm: 4.0,
        outer_radius_mm: 8.0,
        inner_radius_mm: 4.0,
        ..Default::default()
    });
    let own = of(tube.clone());
    let en = asked(tube.clone(), TorsionTheory::EnHollow);
    let thin = asked(tube, TorsionTheory::ThinWall);
    let mut sheet = Sheet::of(DATA, "D01");
    sheet.got("A", own.area_mm2);
    sheet.got("Iy (about y, H direction)", own.i_y_mm4);
    sheet.got("Iz", own.i_z_mm4);
    sheet.got("Wel,y", own.w_el_y_top_mm3);
    sheet.got("Wel,z", own.w_el_z_left_mm3);
    sheet.got("Wpl,y", own.w_pl_y_mm3);
    sheet.got("Wpl,z", own.w_pl_z_mm3);
    sheet.got("It (EN formula: Bredt + T^3 h/3)", en.torsion_constant_mm4);
    sheet.got("It (Bredt only, 4 Ah^2 T/h)", thin.torsion_constant_mm4);
    sheet.got("Ct torsion modulus (EN)", known(en.torsion_modulus_mm3));
    sheet.got("It exact Saint-Venant", own.torsion_constant_mm4);
    sheet.lines()
}

fn round_tube(diameter_mm: f64, thickness_mm: f64, outside_loss_mm: f64) -> v1::SectionAnswer {
    of(Shape::RoundTube(v1::RoundTubeShape {
        diameter_mm,
        thickness_mm,
        outside_loss_mm,
        ..Default::default()
    }))
}

fn d02() -> Vec<Line> {
    let tube = round_tube(48.3, 3.2, 0.0);
    let mut sheet = Sheet::of(DATA, "D02");
    sheet.got("A", tube.area_mm2);
    sheet.got("I", tube.i_y_mm4);
    sheet.got("Wel", tube.w_el_y_top_mm3);
    sheet.got("Wpl", tube.w_pl_y_mm3);
    sheet.got("It", tube.torsion_constant_mm4);
    sheet.got("Wt (torsion)", known(tube.torsion_modulus_mm3));
    sheet.lines()
}

fn angle(id: &str, [vertical_leg_mm, horizontal_leg_mm, t, root, toe]: [f64; 5]) -> Vec<Line> {
    let shape = |root_radius_mm, toe_radius_mm| {
        Shape::Angle(v1::AngleShape {
            vertical_leg_mm,
            horizontal_leg_mm,
            thickness_mm: t,
            root_radius_mm,
            toe_radius_mm,
        })
    };
    let mut sheet = Sheet::of(DATA, id);
    for (form, answer) in
        [("with radii", of(shape(root, toe))), ("sharp corners", of(shape(0.0, 0.0)))]
    {
        let mut got = |quantity: &str, value| sheet.got(&format!("{form}: {quantity}"), value);
        got("A", answer.area_mm2);
        got("centroid y (from heel along horizontal leg)", answer.centroid_y_mm);
        got("centroid z", answer.centroid_z_mm);
        got("Iy=int z2", answer.i_y_mm4);
        got("Iz=int y2", answer.i_z_mm4);
        got("Iyz=int yz", answer.i_yz_mm4);
        got("Imax (Iu)", answer.i_max_mm4);
        got("Imin (Iv)", answer.i_min_mm4);
        got("angle +y to Imax axis", answer.i_max_axis_deg);
        got("Wpl,y (axis parallel to y)", answer.w_pl_y_mm3);
    }
    let sharp = asked(shape(0.0, 0.0), TorsionTheory::SaintVenant);
    sheet.got("sharp: It exact", sharp.torsion_constant_mm4);
    sheet.got("sharp: shear centre y from heel", known(sharp.shear_centre_y_mm));
    sheet.got("sharp: shear centre z from heel", known(sharp.shear_centre_z_mm));
    sheet.lines()
}

fn d03() -> Vec<Line> {
    angle("D03", [50.0, 50.0, 5.0, 7.0, 3.5])
}

fn d04() -> Vec<Line> {
    angle("D04", [100.0, 50.0, 8.0, 8.0, 4.0])
}

fn d05() -> Vec<Line> {
    let bar = |height_mm: f64, width_mm: f64| {
        of(Shape::Rectangle(v1::RectangleShape { height_mm, width_mm }))
    };
    let mut sheet = Sheet::of(DATA, "D05");
    for ratio in [1.0, 1.5, 2.0, 3.0, 5.0, 10.0] {
        let t = 10.0_f64;
        let b = ratio * t;
        let answer = bar(b, t);
        sheet.got(&format!("beta(b/t={ratio})"), answer.torsion_constant_mm4 / (b * t.powi(3)));
        let modulus = known(answer.torsion_modulus_mm3);
        sheet.got(&format!("alpha(b/t={ratio})"), modulus / (b * t.powi(2)));
    }
    let flat = bar(12.0, 30.0);
    sheet.got("example: 30x12 bar J", flat.torsion_constant_mm4);
    let stress = 1e5 / known(flat.torsion_modulus_mm3);
    sheet.got("example: tau_max at T=1e5 N mm", stress);
    sheet.lines()
}

fn d06() -> Vec<Line> {
    let shape = Shape::Channel(v1::ChannelShape {
        height_mm: 100.0,
        flange_mm: 50.0,
        web_thickness_mm: 5.0,
        flange_thickness_mm: 5.0,
    });
    let own = of(shape.clone());
    let thin = asked(shape.clone(), TorsionTheory::ThinWall);
    let exact = asked(shape, TorsionTheory::SaintVenant);
    let mut sheet = Sheet::of(DATA, "D06");
    sheet.got("A", own.area_mm2);
    sheet.got("centroid y from web back", own.centroid_y_mm);
    sheet.got("Iy (strong)", own.i_y_mm4);
    sheet.got("Iz (weak)", own.i_z_mm4);
    // From the back of the web to its mid-line is half its thickness, 2.5 mm.
    sheet.got(
        "shear centre: distance e from web midline, thin-wall formula b^2 h^2 tf/(4 I)",
        2.5 - known(own.shear_centre_y_mm),
    );
    sheet.got("shear centre y from web back", known(own.shear_centre_y_mm));
    sheet.got("It thin-wall sum", thin.torsion_constant_mm4);
    sheet.got("It exact", exact.torsion_constant_mm4);
    sheet.lines()
}

fn box_of(height_mm: f64, width_mm: f64, thickness_mm: f64, bottom: Option<f64>) -> Shape {
    Shape::RectangularTube(v1::RectangularTubeShape {
        height_mm,
        width_mm,
        thickness_mm,
        bottom_thickness_mm: bottom,
        ..Default::default()
    })
}

fn d07() -> Vec<Line> {
    let plate = Shape::Rectangle(v1::RectangleShape { height_mm: 6.0, width_mm: 80.0 });
    let piece = |shape, z_mm| v1::PlacedShape {
        shape: Some(v1::SectionShape { shape: Some(shape) }),
        z_mm,
        ..Default::default()
    };
    let pieces = vec![piece(box_of(80.0, 60.0, 2.0, None), 0.0), piece(plate, 43.0)];
    let rail = of(Shape::BuiltUp(v1::BuiltUpShape { pieces }));
    let mut sheet = Sheet::of(DATA, "D07");
    sheet.got("A", rail.area_mm2);
    sheet.got("centroid z above box centre", rail.centroid_z_mm);
    sheet.got("centroid y", rail.centroid_y_mm);
    sheet.got("Iy", rail.i_y_mm4);
    sheet.got("Iz", rail.i_z_mm4);
    sheet.got("Iyz", rail.i_yz_mm4);
    sheet.got("Wel,y top", rail.w_el_y_top_mm3);
    sheet.got("Wel,y bottom", rail.w_el_y_bottom_mm3);
    sheet.got("Wpl,y", rail.w_pl_y_mm3);
    let moment = rail.piece_first_moment_mm3[1];
    sheet.got(
        "S (first moment of the plate about the centroid, for weld shear flow q=VS/Iy)",
        moment,
    );
    sheet.got("shear flow at the interface for Vz=10 kN", 10_000.0 * moment / rail.i_y_mm4);
    sheet.lines()
}

fn d08() -> Vec<Line> {
    let new = round_tube(60.3, 3.6, 0.0);
    let worn = round_tube(60.3, 3.6, 0.8);
    let mut sheet = Sheet::of(DATA, "D08");
    sheet.got("(a) A nominal", new.area_mm2);
    sheet.got("(a) A corroded", worn.area_mm2);
    sheet.got("(a) I nominal", new.i_y_mm4);
    sheet.got("(a) I corroded", worn.i_y_mm4);
    sheet.got("(a) Wel corroded", worn.w_el_y_top_mm3);
    sheet.got("(a) It corroded", worn.torsion_constant_mm4);
    sheet.got("(a) Wel ratio", worn.w_el_y_top_mm3 / new.w_el_y_top_mm3);
    let intact = of(box_of(70.0, 50.0, 2.5, None));
    let thinned = asked(box_of(70.0, 50.0, 2.5, Some(1.4)), TorsionTheory::ThinWall);
    sheet.got("(b) A", thinned.area_mm2);
    // The sheet counts from the outer bottom face, the shape from the middle of its outside.
    sheet.got("(b) centroid z", thinned.centroid_z_mm + 35.0);
    sheet.got("(b) Iy", thinned.i_y_mm4);
    sheet.got("(b) Iz", thinned.i_z_mm4);
    sheet.got("(b) Wel,y bottom fibre", thinned.w_el_y_bottom_mm3);
    sheet.got("(b) Wel,y top fibre", thinned.w_el_y_top_mm3);
    sheet.got("(b) Iy intact box", intact.i_y_mm4);
    sheet.got("(b) It Bredt 4Am^2/sum(s/t), midline box", thinned.torsion_constant_mm4);
    let flow = 1e6 * thinned.cell_flow_n_per_mm.first().copied().unwrap_or(f64::NAN);
    sheet.got("(b) shear stress in thinned wall for T=1e6 N mm, T/(2 Am t)", flow / 1.4);
    sheet.got("(b) shear stress in intact walls for T=1e6 N mm", flow / 2.5);
    sheet.lines()
}

fn thin_walled(points: &[[f64; 2]], walls: &[(i32, i32, f64)]) -> v1::SectionAnswer {
    of(Shape::ThinWalled(v1::ThinWalledShape {
        points: points
            .iter()
            .map(|[y_mm, z_mm]| v1::StressPoint { name: String::new(), y_mm: *y_mm, z_mm: *z_mm })
            .collect(),
        walls: walls
            .iter()
            .map(|(start, end, t)| v1::ThinWall { start: *start, end: *end, thickness_mm: *t })
            .collect(),
    }))
}

fn d09() -> Vec<Line> {
    let hat = |plate_thickness_mm, plate_width_mm| {
        of(Shape::Hat(v1::HatShape {
            top_mm: 60.0,
            height_mm: 45.0,
            flange_mm: 18.0,
            thickness_mm: 1.5,
            plate_thickness_mm,
            plate_width_mm,
        }))
    };
    let open = hat(0.0, 0.0);
    let closed = hat(1.2, 96.0);
    let cell = thin_walled(
        &[[-30.0, 0.0], [30.0, 0.0], [30.0, 45.0], [-30.0, 45.0]],
        &[(0, 1, 1.2), (1, 2, 1.5), (2, 3, 1.5), (3, 0, 1.5)],
    );
    let mut sheet = Sheet::of(DATA, "D09");
    sheet.got("open: A", open.area_mm2);
    sheet.got("open: centroid z", open.centroid_z_mm);
    sheet.got("open: Iy", open.i_y_mm4);
    sheet.got("open: Iz", open.i_z_mm4);
    sheet.got("open: It", open.torsion_constant_mm4);
    sheet.got("closed: A", closed.area_mm2);
    sheet.got("closed: centroid z", closed.centroid_z_mm);
    sheet.got("closed: Iy", closed.i_y_mm4);
    sheet.got("closed: Iz", closed.i_z_mm4);
    // The cell alone, without the flanges that stick out of it.
    sheet.got("closed: It Bredt cell", cell.torsion_constant_mm4);
    sheet.got("closed: It cell + open flange overhangs", known(closed.torsion_thin_wall_mm4));
    let flow = 5e5 * cell.cell_flow_n_per_mm.first().copied().unwrap_or(f64::NAN);
    sheet.got("closed: tau in hat wall at T=5e5 N mm", flow / 1.5);
    sheet.got("closed: tau in plate", flow / 1.2);
    sheet.lines()
}

fn d10() -> Vec<Line> {
    let points = [[0.0, 0.0], [60.0, 0.0], [100.0, 0.0], [100.0, 50.0], [60.0, 50.0], [0.0, 50.0]];
    let around =
        [(0, 1, 2.0), (1, 2, 3.0), (2, 3, 3.0), (3, 4, 3.0), (4, 5, 2.0), (5, 0, 2.0), (1, 4, 1.5)];
    let two = thin_walled(&points, &around);
    let one = thin_walled(&points, &around[..6]);
    // Which cell comes first is not promised: the one with the stiffer walls flows more.
    let mut flows: Vec<f64> = two.cell_flow_n_per_mm.iter().map(|q| 8e5 * q.abs()).collect();
    flows.sort_by(f64::total_cmp);
    assert_eq!(flows.len(), 2, "two cells");
    let mut sheet = Sheet::of(DATA, "D10");
    sheet.got("It (two-cell Bredt)", two.torsion_constant_mm4);
    sheet.got("shear flow cell 1", flows[0]);
    sheet.got("shear flow cell 2", flows[1]);
    sheet.got("shear flow in the common web |q1-q2|", flows[1] - flows[0]);
    sheet.got("tau in cell 1 outer wall", flows[0] / 2.0);
    sheet.got("It if the common web is removed", one.torsion_constant_mm4);
    sheet.lines()
}

pub(crate) fn lines() -> Vec<Line> {
    [d01, d02, d03, d04, d05, d06, d07, d08, d09, d10].iter().flat_map(|case| case()).collect()
}

#[test]
fn sections_have_the_properties_of_their_tables() {
    assert_close(&lines());
}
