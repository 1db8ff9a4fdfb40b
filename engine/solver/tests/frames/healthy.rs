//! Sound frames, slender ones among them: none may be called a mechanism, all must balance.

use crate::build::*;
use crate::mechanisms::turned;
use fishplate_solver::model::*;

fn tube() -> BeamSection {
    section_mm(424.0, 1.078e5, 1.078e5, 2.157e5)
}

fn loaded(mut f: Frame, node: NodeId) -> Frame {
    f.case().force(node, [130.0, -270.0, -410.0]);
    f
}

fn cantilever(pieces: usize, length: f64) -> Frame {
    let mut f = Frame::of(tube(), steel());
    let nodes = f.line([0.0, 0.0, 0.0], [length, 0.0, 0.0], pieces);
    f.support(nodes[0], CLAMPED);
    let tip = nodes[pieces];
    loaded(f, tip)
}

fn portal(span: f64, height: f64, pieces: usize) -> Frame {
    let mut f = Frame::of(tube(), steel());
    let left = f.line([0.0, 0.0, 0.0], [0.0, 0.0, height], pieces);
    let right = f.line([span, 0.0, 0.0], [span, 0.0, height], pieces);
    f.beam(left[pieces], right[pieces]);
    f.support(left[0], CLAMPED);
    f.support(right[0], CLAMPED);
    let top = left[pieces];
    loaded(f, top)
}

fn truss(panels: usize, depth: f64) -> Frame {
    let mut f = Frame::of(tube(), steel());
    let low: Vec<NodeId> = (0..=panels).map(|i| f.node(500.0 * i as f64, 0.0, 0.0)).collect();
    let high: Vec<NodeId> = (0..=panels).map(|i| f.node(500.0 * i as f64, 0.0, depth)).collect();
    let mut bars = vec![(low[panels], high[panels])];
    for i in 0..panels {
        bars.extend([
            (low[i], low[i + 1]),
            (high[i], high[i + 1]),
            (low[i], high[i]),
            (low[i], high[i + 1]),
        ]);
    }
    for (a, b) in bars {
        let beam = f.beam(a, b);
        f.draft.beams[beam.0].releases_start[4] = Release::Free;
        f.draft.beams[beam.0].releases_end[4] = Release::Free;
    }
    for (i, &node) in low.iter().chain(&high).enumerate() {
        let mut dofs = vec![1, 3, 4, 5];
        if i == 0 {
            dofs.extend([0, 2]);
        }
        if i == panels {
            dofs.push(2);
        }
        f.support(node, fixed(&dofs));
    }
    loaded(f, high[panels / 2])
}

fn grid(rows: usize) -> Frame {
    let mut f = Frame::of(tube(), steel());
    let nodes: Vec<Vec<NodeId>> = (0..=rows)
        .map(|i| (0..=rows).map(|j| f.node(400.0 * i as f64, 300.0 * j as f64, 0.0)).collect())
        .collect();
    for i in 0..=rows {
        for j in 0..=rows {
            if i < rows {
                f.beam(nodes[i][j], nodes[i + 1][j]);
            }
            if j < rows {
                f.beam(nodes[i][j], nodes[i][j + 1]);
            }
        }
    }
    for (i, j) in [(0, 0), (rows, 0), (0, rows), (rows, rows)] {
        f.support(nodes[i][j], fixed(&[0, 1, 2]));
    }
    let middle = nodes[rows / 2][rows / 2];
    loaded(f, middle)
}

/// A frame that floats on soft springs: stiffness against stiffness up to 1e8.
fn floating(soft: f64) -> Frame {
    let mut f = Frame::of(tube(), steel());
    let nodes = f.line([0.0, 0.0, 0.0], [900.0, 0.0, 0.0], 6);
    for &node in [&nodes[0], &nodes[6]] {
        f.ground_spring(node, [soft, soft, soft, soft, 0.0, 0.0]);
    }
    loaded(f, nodes[3])
}

/// A joint that is nearly a hinge.
fn nearly_hinged(stiffness: f64) -> Frame {
    let mut f = Frame::of(tube(), steel());
    let nodes = f.line([0.0, 0.0, 0.0], [1000.0, 0.0, 0.0], 2);
    f.draft.beams[1].releases_start[4] = Release::Spring(stiffness);
    f.support(nodes[0], CLAMPED);
    loaded(f, nodes[2])
}

fn wire(pieces: usize) -> Frame {
    // A rod of 2 mm and up to 4 m: length over radius of gyration 8000.
    let (area, i) = (std::f64::consts::PI, std::f64::consts::FRAC_PI_4);
    let mut f = Frame::of(section_mm(area, i, i, 2.0 * i), steel());
    let nodes = f.line([0.0, 0.0, 0.0], [4000.0, 0.0, 0.0], pieces);
    f.support(nodes[0], CLAMPED);
    let tip = nodes[pieces];
    f.case().force(tip, [0.1, -0.002, -0.001]);
    f
}

fn corpus() -> Vec<(String, Frame)> {
    let mut list: Vec<(String, Frame)> = Vec::new();
    for pieces in (1..=60).chain([80, 120, 200]) {
        list.push((format!("cantilever of {pieces}"), cantilever(pieces, 1000.0)));
    }
    for length in [5_000.0, 20_000.0, 80_000.0] {
        for pieces in [5, 25, 50] {
            list.push((format!("{pieces} on {length} mm"), cantilever(pieces, length)));
        }
    }
    for pieces in [1, 4, 16, 48] {
        list.push((format!("wire of {pieces}"), wire(pieces)));
    }
    for span in [500.0, 3000.0, 12_000.0] {
        for height in [400.0, 2500.0, 9000.0] {
            for pieces in [1, 3, 10] {
                list.push((
                    format!("portal {span} {height} {pieces}"),
                    portal(span, height, pieces),
                ));
            }
        }
    }
    for panels in 1..=12 {
        for depth in [50.0, 500.0] {
            list.push((format!("truss {panels} {depth}"), truss(panels, depth)));
        }
    }
    for rows in 1..=6 {
        list.push((format!("grid {rows}"), grid(rows)));
    }
    for power in 1..=8 {
        list.push((format!("floating 1e{power}"), floating(10_f64.powi(power))));
        list.push((format!("joint 1e{}", power - 3), nearly_hinged(10_f64.powi(power - 3))));
    }
    let askew: Vec<(String, Frame)> =
        list.iter().step_by(2).map(|(name, f)| (format!("{name}, askew"), turned(f))).collect();
    list.extend(askew);
    list
}

#[test]
fn no_sound_frame_is_refused() {
    let corpus = corpus();
    assert!(corpus.len() >= 200, "{} frames", corpus.len());
    let mut wrong = Vec::new();
    for (name, f) in &corpus {
        match f.try_solve() {
            Ok(answer) => answer.cases.iter().for_each(trustworthy),
            Err(error) => wrong.push(format!("{name}: {error}")),
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), corpus.len(), wrong.join("\n"));
}

/// Tip deflection F L^3 / 3EI of a 1 m strip of 50 x 5 mm, in up to 1000 pieces: plain f64 is
/// off by 2.5e-5 there; refinement with deformations in doubled precision keeps nine digits.
#[test]
fn a_thousand_pieces_keep_nine_digits() {
    let (width, depth) = (50.0, 5.0);
    let i_y = width * depth * depth * depth / 12.0;
    let i_z = depth * width * width * width / 12.0;
    for pieces in [20, 50, 200, 1000] {
        let mut f = Frame::of(section_mm(width * depth, i_y, i_z, 4.0 * i_y), steel());
        let nodes = f.line([0.0, 0.0, 0.0], [1000.0, 0.0, 0.0], pieces);
        f.support(nodes[0], CLAMPED);
        f.case().force(nodes[pieces], [0.0, 0.0, -10.0]);
        let answer = f.solve();
        let expected = -10.0 / (3.0 * 210e9 * i_y * MM4);
        let tip = answer.cases[0].displacements[pieces][2];
        close(tip, expected, 1e-9, &format!("{pieces} pieces"));
        // The moment at the root comes from the last digits of the deformations.
        let root = answer.cases[0].beams[0].end_forces[0][4];
        close(root, -10.0, 1e-9, &format!("{pieces} pieces: root moment"));
    }
}
