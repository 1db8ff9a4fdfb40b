//! Answers about plates and what joins them.

use fishplate_proto::v1;

use fishplate_solver::plates::PlateModel;
use fishplate_solver::plates::answer::{
    BoltAnswer, BoltCut, ContactAnswer, ContactPlace, ElementForces, Face, LineForces, LineStation,
    NodeForces, PlateCaseAnswer, PlateLine, PlateStress, Resultants, SeamAnswer, SeamStation,
    Search, SpotAnswer, SpreadAnswer,
};
use fishplate_solver::plates::model::{Plate, PlateId};

use super::check::count;
use super::solver;
use super::{position, vector, wrench};
use crate::from_proto::solver::StructureNames;
use crate::units::{DEG, MM, MM2, MPA, N_PER_MM, NMM};

/// One load case of a structure with plates.
pub(crate) fn static_case(
    names: &StructureNames,
    model: &PlateModel,
    asked: &[PlateLine],
    case: PlateCaseAnswer,
) -> v1::StaticCaseAnswer {
    let PlateCaseAnswer {
        name,
        displacements,
        reactions,
        beams,
        springs,
        links,
        spreads,
        seams,
        spots,
        bolts,
        contacts,
        stresses,
        lines,
        search,
        critical,
        second_order,
        quality,
    } = case;
    let frame = model.frame();
    v1::StaticCaseAnswer {
        load_case_id: name,
        movements: solver::movements(names, &displacements),
        reactions: reactions.iter().map(|r| solver::reaction(names, r)).collect(),
        members: beams.iter().map(|beam| solver::member(names, frame, beam)).collect(),
        springs: springs.iter().map(|s| solver::spring(names, frame, &[], s)).collect(),
        links: links.iter().map(|l| solver::link(names, l)).collect(),
        quality: Some(solver::solve_quality(&quality, search.rounds)),
        plate_stresses: stresses.iter().map(|s| plate_stress(names, model.plates(), s)).collect(),
        seams: seams.into_iter().map(|s| seam(names, s)).collect(),
        spots: spots.into_iter().map(|s| spot(names, s)).collect(),
        plate_bolts: bolts.into_iter().map(|b| bolt(names, b)).collect(),
        plate_contacts: contacts.into_iter().map(|c| contact(names, c)).collect(),
        spreads: spreads.into_iter().map(|s| spread(names, s)).collect(),
        contact_search: Some(contact_search(search)),
        critical_load_factor: critical,
        second_order,
        plate_lines: asked.iter().zip(lines).map(|(a, l)| line(names, a, l)).collect(),
    }
}

/// What the caller should know about the trust in a case.
pub(crate) fn warnings(names: &StructureNames, case: &PlateCaseAnswer) -> Vec<String> {
    let mut told = solver::warnings_of(names, &case.name, &case.quality.warnings);
    let (rest, rounds) = (case.search.friction_rest, case.search.friction_rounds);
    // Common practice, no source: below a thousandth nobody sees it.
    if rest > 1e-3 {
        told.push(format!(
            "load case `{}`: friction still changed by {rest:.1e} of its largest force in the last \
             of {rounds} rounds",
            case.name
        ));
    }
    told
}

fn plate_stress(names: &StructureNames, plates: &[Plate], given: &PlateStress) -> v1::PlateStress {
    let PlateStress { plate: PlateId(plate), elements, nodes } = given;
    let thickness = plates[*plate].thickness;
    let corners = plates[*plate].elements.iter().map(|element| element.nodes().len());
    let element = |(given, corners_of): (&ElementForces, usize)| {
        let ElementForces { axes: [x, y, _], centre, corners } = given;
        v1::PlateElementStress {
            x_axis: Some(vector(*x)),
            y_axis: Some(vector(*y)),
            centre: Some(forces(centre, thickness)),
            corners: corners[..corners_of].iter().map(|r| forces(r, thickness)).collect(),
        }
    };
    let node = |given: &NodeForces| {
        let NodeForces { node, axes: [x, y, _], forces: resultants } = given;
        v1::PlateNodeStress {
            node_id: names.nodes[node.0].clone(),
            x_axis: Some(vector(*x)),
            y_axis: Some(vector(*y)),
            forces: Some(forces(resultants, thickness)),
        }
    };
    v1::PlateStress {
        plate_id: names.plates[*plate].clone(),
        elements: elements.iter().zip(corners).map(element).collect(),
        nodes: nodes.iter().map(node).collect(),
    }
}

fn forces(given: &Resultants, thickness: f64) -> v1::PlateForces {
    let Resultants { membrane, bending } = given;
    let [n_x, n_y, n_xy] = membrane.map(|n| n / N_PER_MM);
    // N m/m and N mm/mm are the same number.
    let [m_x, m_y, m_xy] = *bending;
    let at = |face| {
        let stress = given.stress(face, thickness);
        let [x, y, xy] = stress.0.map(|s| s / MPA);
        let ([first, second], angle) = stress.principal();
        Some(v1::FaceStress {
            x_mpa: x,
            y_mpa: y,
            xy_mpa: xy,
            principal_1_mpa: first / MPA,
            principal_2_mpa: second / MPA,
            principal_angle_deg: angle / DEG,
            von_mises_mpa: stress.von_mises() / MPA,
        })
    };
    v1::PlateForces {
        membrane_x_n_per_mm: n_x,
        membrane_y_n_per_mm: n_y,
        membrane_xy_n_per_mm: n_xy,
        bending_x_nmm_per_mm: m_x,
        bending_y_nmm_per_mm: m_y,
        bending_xy_nmm_per_mm: m_xy,
        top: at(Face::Top),
        middle: at(Face::Middle),
        bottom: at(Face::Bottom),
    }
}

fn line(names: &StructureNames, asked: &PlateLine, given: LineForces) -> v1::PlateLineForces {
    let LineForces { stations, force, about } = given;
    let station = |given: LineStation| {
        let LineStation { node, length, normal, shear, transverse, moment, twist } = given;
        v1::PlateLineStation {
            node_id: names.nodes[node.0].clone(),
            length_mm: length / MM,
            normal_n_per_mm: normal / N_PER_MM,
            shear_n_per_mm: shear / N_PER_MM,
            transverse_n_per_mm: transverse / N_PER_MM,
            // N m/m and N mm/mm are the same number.
            moment_nmm_per_mm: moment,
            twist_nmm_per_mm: twist,
        }
    };
    v1::PlateLineForces {
        plate_id: names.plates[asked.plate.0].clone(),
        stations: stations.into_iter().map(station).collect(),
        force: Some(wrench(force)),
        about: Some(position(about)),
    }
}

fn seam(names: &StructureNames, given: SeamAnswer) -> v1::SeamForces {
    let SeamAnswer { seam, stations, force, about } = given;
    let station = |given: SeamStation| {
        let SeamStation { at, length, point, force, moment } = given;
        let [on, up, along] = force.map(|f| f / N_PER_MM);
        v1::SeamStation {
            at_mm: at / MM,
            length_mm: length / MM,
            point: Some(position(point)),
            leg_on_n_per_mm: on,
            leg_up_n_per_mm: up,
            along_n_per_mm: along,
            // N m/m and N mm/mm are the same number.
            moment_nmm_per_mm: moment,
        }
    };
    v1::SeamForces {
        seam_id: names.seams[seam.0].clone(),
        stations: stations.into_iter().map(station).collect(),
        force: Some(wrench(force)),
        about: Some(position(about)),
    }
}

fn spot(names: &StructureNames, given: SpotAnswer) -> v1::SpotForce {
    let SpotAnswer { spot, force } = given;
    v1::SpotForce { spot_id: names.spots[spot.0].clone(), force: Some(wrench(force)) }
}

fn bolt(names: &StructureNames, given: BoltAnswer) -> v1::StructureBoltForces {
    let BoltAnswer { bolt, tension, shear, bending, bearing, through } = given;
    let cut = |given: BoltCut| {
        let BoltCut { force, about } = given;
        v1::ShankCut { force: Some(wrench(force)), about: Some(position(about)) }
    };
    v1::StructureBoltForces {
        bolt_id: names.plate_bolts[bolt.0].clone(),
        tension_n: tension,
        shear_n: shear.into_iter().map(vector).collect(),
        bending_nmm: bending / NMM,
        bearing_n: bearing.into_iter().map(vector).collect(),
        through: through.into_iter().map(cut).collect(),
    }
}

fn contact(names: &StructureNames, given: ContactAnswer) -> v1::ContactForces {
    let ContactAnswer { contact, places, force, about, pressed, area } = given;
    let place = |given: ContactPlace| {
        let ContactPlace { node, area, pressing, opening, friction } = given;
        v1::ContactPlace {
            node_id: names.nodes[node.0].clone(),
            area_mm2: area / MM2,
            pressing_n: pressing,
            opening_mm: opening / MM,
            friction_n: Some(vector(friction)),
        }
    };
    v1::ContactForces {
        contact_id: names.plate_contacts[contact.0].clone(),
        places: places.into_iter().map(place).collect(),
        force: Some(wrench(force)),
        about: Some(position(about)),
        pressed_mm2: pressed / MM2,
        area_mm2: area / MM2,
    }
}

fn spread(names: &StructureNames, given: SpreadAnswer) -> v1::SpreadForce {
    let SpreadAnswer { spread, force } = given;
    v1::SpreadForce { spread_id: names.spreads[spread.0].clone(), force: Some(wrench(force)) }
}

fn contact_search(given: Search) -> v1::ContactSearch {
    let Search { rounds, one_at_a_time, friction_rounds, friction_rest } = given;
    v1::ContactSearch {
        rounds: count(rounds),
        one_at_a_time,
        friction_rounds: count(friction_rounds),
        friction_rest,
    }
}
