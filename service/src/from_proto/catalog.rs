//! `catalog.proto`: which page of which list.

use fishplate_proto::v1;

use super::Reader;
use crate::path::Path;

/// A page that is asked for.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Page {
    /// Entries that contain this text, in lower case.
    pub(crate) filter: String,
    /// First entry.
    pub(crate) from: usize,
    /// How many entries.
    pub(crate) size: usize,
}

/// Entries on a page where the caller does not say.
const USUAL: usize = 100;
/// Most entries on a page.
const MOST: i32 = 1000;

/// A page of sections.
pub(crate) fn sections(reader: &mut Reader, request: v1::ListSectionsRequest) -> Page {
    let v1::ListSectionsRequest { page_size, page_token, filter } = request;
    page(reader, page_size, &page_token, filter)
}

/// A page of materials.
pub(crate) fn materials(reader: &mut Reader, request: v1::ListMaterialsRequest) -> Page {
    let v1::ListMaterialsRequest { page_size, page_token, filter } = request;
    page(reader, page_size, &page_token, filter)
}

/// A page of fasteners.
pub(crate) fn fasteners(reader: &mut Reader, request: v1::ListFastenersRequest) -> Page {
    let v1::ListFastenersRequest { page_size, page_token, filter } = request;
    page(reader, page_size, &page_token, filter)
}

/// A page of details under repeated stress.
pub(crate) fn fatigue_details(reader: &mut Reader, request: v1::ListFatigueDetailsRequest) -> Page {
    let v1::ListFatigueDetailsRequest { page_size, page_token, filter } = request;
    page(reader, page_size, &page_token, filter)
}

fn page(reader: &mut Reader, page_size: i32, page_token: &str, filter: String) -> Page {
    if !(0..=MOST).contains(&page_size) {
        let allowed = format!("1 to {MOST}, or 0 for {USUAL}");
        reader.refuse(&Path::ROOT.field("page_size"), page_size.to_string(), allowed, "");
    }
    let size = usize::try_from(page_size).ok().filter(|size| *size > 0).unwrap_or(USUAL);
    let filter = filter.to_lowercase();
    let from = if page_token.is_empty() {
        0
    } else {
        from_token(page_token, &filter).unwrap_or_else(|| {
            reader.refuse(
                &Path::ROOT.field("page_token"),
                format!("`{page_token}`"),
                "next_page_token of the page before, with the same filter",
                "leave it out for the first page",
            );
            0
        })
    };
    Page { filter, from, size }
}

impl Page {
    /// The token of the page that begins at entry `from`.
    pub(crate) fn token(&self, from: usize) -> String {
        format!("{from:x}-{:08x}", mark(&self.filter))
    }
}

fn from_token(token: &str, filter: &str) -> Option<usize> {
    let (from, rest) = token.split_once('-')?;
    let same = u32::from_str_radix(rest, 16).ok()? == mark(filter);
    usize::from_str_radix(from, 16).ok().filter(|_| same)
}

/// A mark of the filter (FNV-1a, 32 bit), so that a token is not carried over to another list.
fn mark(filter: &str) -> u32 {
    filter
        .bytes()
        .fold(0x811c_9dc5, |hash, byte| (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193))
}

#[cfg(test)]
mod tests {
    use super::*;

    // Published test vectors of FNV-1a: Fowler, Noll, Vo, draft-eastlake-fnv, appendix C.
    #[test]
    fn the_mark_is_fnv_1a() {
        assert_eq!(mark(""), 0x811c_9dc5);
        assert_eq!(mark("a"), 0xe40c_292c);
        assert_eq!(mark("foobar"), 0xbf9c_f968);
    }

    #[test]
    fn a_token_belongs_to_its_filter() {
        let mut reader = Reader::default();
        let first = page(&mut reader, 0, "", "M12".to_owned());
        assert_eq!((first.from, first.size), (0, USUAL));
        let token = first.token(100);
        assert_eq!(page(&mut reader, 5, &token, "m12".to_owned()).from, 100);
        assert!(reader.into_faults().0.is_empty());
        for (size, token) in [(0, token.as_str()), (0, "100"), (0, "zz-0"), (-1, ""), (1001, "")] {
            let mut reader = Reader::default();
            page(&mut reader, size, token, String::new());
            assert_eq!(reader.into_faults().0.len(), 1, "{size} {token}");
        }
    }
}
