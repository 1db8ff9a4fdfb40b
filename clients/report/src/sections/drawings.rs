//! Drawings of the mounts: those that exceed stand open, the others unfold.

use fishplate_proto::v1;

use crate::given::Given;
use crate::names::capital;
use crate::state::{self, State, worst};
use crate::svg::marks::badge_and_word;
use crate::svg::welds::Run;
use crate::views::mount::{self, Drawing};
use crate::views::ribbons;

/// A mount with its pictures.
#[derive(Debug)]
pub(crate) struct Mount {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) number: String,
    pub(crate) state: String,
    pub(crate) exceeds: bool,
    pub(crate) views: Vec<Drawing>,
    pub(crate) ribbon: Option<(String, usize)>,
}

/// The mounts in their order.
pub(crate) fn mounts(given: Given<'_>) -> Vec<Mount> {
    given.response.mounts.iter().map(|m| one(given, m)).collect()
}

fn one(given: Given<'_>, mount: &v1::MountAnswer) -> Mount {
    let governing = worst(given.rows_of(&mount.id));
    let state = governing.map_or(State::NotChecked, State::of);
    Mount {
        id: mount.id.clone(),
        name: format!("{} mount", capital(&mount.name)),
        number: governing.map_or_else(|| "–".to_owned(), state::number),
        state: badge_and_word(state),
        exceeds: state == State::Exceeds,
        views: mount::draw(given, mount),
        ribbon: ribbon(given, mount),
    }
}

fn ribbon(given: Given<'_>, mount: &v1::MountAnswer) -> Option<(String, usize)> {
    let scene = given.response.scene.as_ref()?;
    let own = scene.welds.iter().filter(|w| w.mount_id == mount.id);
    let runs: Vec<Run<'_>> = own.filter_map(|w| Run::of(w, false)).collect();
    // The limit is that of the row whose demand is the stress on the throat.
    let welds = given.rows_of(&mount.id).filter(|r| r.component.starts_with("weld."));
    let limit = worst(welds.filter(|r| r.unit == "MPa")).map(|r| r.resistance);
    ribbons::draw(&runs, limit.filter(|l| l.is_finite() && *l > 0.0), given.units)
}
