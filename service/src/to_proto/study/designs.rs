//! `designs.proto`: verdicts on many designs, packed.

use fishplate_mounts::answer::Verdict;
use fishplate_mounts::study::designs::{RowName, Told};
use fishplate_proto::v1;

use crate::to_proto::check::verdict_of;

/// Makes blocks of designs that come in order.
#[derive(Debug)]
pub(crate) struct Blocks {
    governing: bool,
    /// Rows that were named so far.
    rows: Vec<RowName>,
    done: v1::DesignsDone,
}

impl Blocks {
    /// Blocks with or without the governing rows.
    pub(crate) fn new(governing: bool) -> Self {
        Self { governing, rows: Vec::new(), done: v1::DesignsDone::default() }
    }

    /// The next block.
    pub(crate) fn block(&mut self, designs: Vec<Told>) -> v1::DesignBlock {
        let mut block = v1::DesignBlock { first: self.done.designs, ..Default::default() };
        for Told { verdict, governing } in designs {
            self.done.designs += 1;
            let count = match verdict {
                Some(Verdict::Holds) => &mut self.done.holding,
                Some(Verdict::Provisional) => &mut self.done.provisional,
                Some(Verdict::DoesNotHold) => &mut self.done.exceeding,
                None => &mut self.done.not_buildable,
            };
            *count += 1;
            block.verdicts.push(verdict.map_or(v1::Verdict::Unspecified, verdict_of).into());
            if !self.governing {
                continue;
            }
            let (utilisation, row) = match governing {
                Some((utilisation, row)) => (utilisation, self.row(row, &mut block)),
                None => (0.0, 0),
            };
            // Seven digits are told of a utilisation; the verdict was decided on all.
            #[allow(clippy::cast_possible_truncation)]
            block.utilisations.push(utilisation as f32);
            block.rows.push(row);
        }
        block
    }

    /// The last message.
    pub(crate) fn done(&self) -> v1::DesignsDone {
        self.done
    }

    /// The number of a row, which is named in this block where none before did.
    fn row(&mut self, row: RowName, block: &mut v1::DesignBlock) -> u32 {
        let place = self.rows.iter().position(|known| *known == row).unwrap_or_else(|| {
            let RowName { mount, component, what } = row.clone();
            block.new_rows.push(v1::DesignRow { mount_id: mount, component, what });
            self.rows.push(row);
            self.rows.len() - 1
        });
        u32::try_from(place + 1).unwrap_or(u32::MAX)
    }
}
