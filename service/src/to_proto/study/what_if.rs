//! `what_if.proto`: a project before and after a change.

use fishplate_mounts::study::what_if::{
    MassLimit, MountChange, MountUse, RowChange, Standing, Used, WhatIfAnswer,
};
use fishplate_proto::v1;

use super::guesses::studied_row;
use crate::to_proto::check::{place, verdict_of};

/// The whole answer.
pub(crate) fn answer(answer: WhatIfAnswer) -> v1::WhatIf {
    let WhatIfAnswer { title, before, after, moves, rows, mounts, limit, assumptions, cautions } =
        answer;
    v1::WhatIf {
        title,
        before: Some(standing(before)),
        after: after.map(standing),
        moves,
        rows: rows.into_iter().map(row).collect(),
        mounts: mounts.into_iter().map(mount).collect(),
        limit: limit.map(mass_limit),
        assumptions,
        cautions,
    }
}

fn standing(standing: Standing) -> v1::WhatIfStanding {
    let Standing { verdict, sentence, axles: [front, rear], highest } = standing;
    v1::WhatIfStanding {
        verdict: verdict_of(verdict).into(),
        sentence,
        front_axle_n: front,
        rear_axle_n: rear,
        utilisation: highest.as_ref().map(|(u, _)| *u),
        row_id: highest.map_or(String::new(), |(_, row)| row),
    }
}

fn row(change: RowChange) -> v1::WhatIfRow {
    let RowChange { row, before, after } = change;
    v1::WhatIfRow { row: Some(studied_row(row)), before: before.map(used), after: after.map(used) }
}

fn used(used: Used) -> v1::WhatIfUse {
    let Used { utilisation, case } = used;
    v1::WhatIfUse { utilisation, case_name: case }
}

fn mount(change: MountChange) -> v1::WhatIfMount {
    let MountChange { id, name, before, after } = change;
    v1::WhatIfMount {
        mount_id: id,
        name,
        before: Some(mount_use(before)),
        after: after.map(mount_use),
    }
}

fn mount_use(used: MountUse) -> v1::WhatIfMountUse {
    let MountUse { force, force_case, movement, movement_case } = used;
    v1::WhatIfMountUse {
        force_x_n: force.x,
        force_y_n: force.y,
        force_z_n: force.z,
        force_case_name: force_case,
        movement: Some(place(movement)),
        movement_case_name: movement_case,
    }
}

fn mass_limit(limit: MassLimit) -> v1::WhatIfMassLimit {
    let MassLimit { mass, rows, exceeding, looked_to } = limit;
    v1::WhatIfMassLimit {
        mass_kg: mass,
        rows: rows.into_iter().map(studied_row).collect(),
        exceeding: exceeding.into_iter().map(studied_row).collect(),
        looked_to_kg: looked_to,
    }
}
