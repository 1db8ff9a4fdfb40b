//! Weld toes under the loads that come back, by the structural stress that the plate level finds
//! beside them.

use fishplate_quantity::Provenance;
use fishplate_quantity::algebra::larger;
use fishplate_strength::clause::NotChecked;
use fishplate_strength::clause::input::{HotSpotInput, ShareBlock};

use super::fatigue::{Swing, silent, swings, told};
use super::{Draft, InCase, Second, Setting};
use crate::describe::Duty;
use crate::design::WeldId;
use crate::plate::read::structural;
use crate::plate::result::{Recovered, Solved};

/// Class of the structural stress at toes of fillets that carry load, Pa (IIW-2259-15, Table 3.3,
/// no 5; EN 1993-1-9:2005, Table B.1, detail 7), from memory.
const LOADED_FILLET: f64 = 90e6;

/// The rows of every weld of the plate level.
pub(super) fn drafts<'a>(setting: Setting<'a>, out: &mut Vec<Draft<'a>>) {
    let (Some(plates), Some(duty)) = (setting.plates, &setting.project.duty) else { return };
    for group in &plates.groups {
        let Ok(solved) = &group.outcome else { continue };
        let mut welds: Vec<WeldId> = Vec::new();
        for toe in &solved.contents.toes {
            let weld = solved.contents.runs[toe.run].weld;
            if !welds.contains(&weld) {
                welds.push(weld);
            }
        }
        for weld in welds {
            let at = &setting.design.welds[weld.0];
            let own = |m: &&usize| Some(setting.design.mounts[**m].side) == at.side;
            let mount = group.mounts.iter().find(own).or(group.mounts.first()).copied();
            if setting.pack.hot_spots.is_empty() {
                silent(&setting, mount.unwrap_or(0), &at.name, out);
                continue;
            }
            for clause in setting.pack.hot_spots {
                let second = Second::by(
                    &setting,
                    "structural stress from 0.4 t and 1.0 t beside the toe",
                    *clause,
                    solved,
                    move |solved, mesh, case| inputs((&setting, case), duty, weld, solved, mesh),
                    |_, _| String::new(),
                );
                let draft = Draft::by_plates(second, *clause).of(mount, at.name.clone()).called(
                    format!("{}, toes: {}", at.name, clause.title()),
                    format!("repeated load, toe: {}", clause.short()),
                );
                out.push(told(draft, duty, &format!("the toe of {}", at.name)));
            }
        }
    }
}

/// Stress range of a swing beside a toe: upper less lower state.
fn ranges(mesh: &Recovered, swing: &Swing, (place, station, t): (usize, usize, f64)) -> [f64; 2] {
    let state = |shares: &[(usize, f64)]| {
        shares.iter().fold([0.0; 2], |sum: [f64; 2], (case, share)| {
            let stress = mesh.service[*case].toes[place].stations[station].beside(t);
            [sum[0] + stress[0] * share, sum[1] + stress[1] * share]
        })
    };
    let [upper, lower] = [state(&swing.states[0]), state(&swing.states[1])];
    [upper[0] - lower[0], upper[1] - lower[1]]
}

/// One input a station of every toe of a weld. The range that is told is that of the load family
/// with the largest; those of the others are shares of it.
fn inputs(
    (setting, case): (&Setting<'_>, InCase),
    duty: &Duty,
    weld: WeldId,
    solved: &Solved,
    mesh: &Recovered,
) -> Result<Vec<HotSpotInput>, NotChecked> {
    let swings = swings(setting, duty)?;
    let mut list = Vec::new();
    for (place, toe) in solved.contents.toes.iter().enumerate() {
        if solved.contents.runs[toe.run].weld != weld {
            continue;
        }
        let wall = &solved.contents.walls[toe.wall];
        let t = wall.thickness;
        for station in 0..mesh.service.first().map_or(0, |set| set.toes[place].stations.len()) {
            let found: Vec<[f64; 2]> =
                swings.iter().map(|swing| ranges(mesh, swing, (place, station, t))).collect();
            let spot = |range: [f64; 2]| structural(range).abs();
            let most = found.iter().map(|r| spot(*r)).fold(0.0, larger);
            let Some(reference) = found.iter().find(|r| spot(**r) >= most && most > 0.0) else {
                continue;
            };
            let blocks = swings
                .iter()
                .zip(&found)
                .flat_map(|(swing, range)| {
                    let of = spot(*range) / most;
                    swing
                        .blocks
                        .iter()
                        .map(move |(share, n_e)| ShareBlock { share: share * of, n_e: *n_e })
                })
                .collect();
            list.push(HotSpotInput {
                t,
                fat_hs: LOADED_FILLET,
                sigma_04: Some(reference[0]),
                sigma_05: None,
                sigma_09: None,
                sigma_10: Some(reference[1]),
                sigma_14: None,
                sigma_15: None,
                sigma_4mm: None,
                sigma_8mm: None,
                sigma_12mm: None,
                n_t: None,
                distance: Some(duty.distance),
                blocks,
                origins: super::fatigue::origins(case, &format!("plate level, {}", wall.name))
                    .with("fat_hs", || {
                        Provenance::Table(
                            "toe of a fillet that carries load, IIW-2259-15".to_owned(),
                        )
                    }),
            });
        }
    }
    Ok(list)
}
