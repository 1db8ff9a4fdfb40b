//! Pages of the catalogue that cannot be asked for.

use fishplate_proto::v1::ListSectionsRequest;
use fishplate_tests::service;

use crate::input::{Bad, assert_refused};

#[test]
fn a_page_that_is_not_there_is_refused_at_its_field() {
    let good = ListSectionsRequest { page_size: 3, ..Default::default() };
    let first = service::sections(&good).unwrap();
    assert_eq!(first.entries.len(), 3);
    assert!(first.entries.iter().all(|entry| !entry.source.is_empty()), "{first:?}");
    let table: [Bad<ListSectionsRequest>; 4] = [
        Bad {
            what: "a page below nothing",
            spoil: |r| r.page_size = -1,
            field: "page_size",
            words: &["-1", "1 to 1000"],
        },
        Bad {
            what: "a page of all",
            spoil: |r| r.page_size = 1001,
            field: "page_size",
            words: &["1001", "1 to 1000"],
        },
        Bad {
            what: "a token of one's own making",
            spoil: |r| r.page_token = "page two".to_owned(),
            field: "page_token",
            words: &["page two"],
        },
        Bad {
            what: "a filter over two lines",
            spoil: |r| r.filter = "angle\n50".to_owned(),
            field: "filter",
            words: &["one line"],
        },
    ];
    assert_refused(&good, &table, |request| service::sections(request).map(|_| ()));
}

#[test]
fn a_token_of_another_list_is_refused() {
    let angles =
        ListSectionsRequest { page_size: 2, filter: "angle".to_owned(), ..Default::default() };
    let token = service::sections(&angles).unwrap().next_page_token;
    assert!(!token.is_empty());
    let next = ListSectionsRequest { page_token: token.clone(), ..angles.clone() };
    assert!(!service::sections(&next).unwrap().entries.is_empty());
    let other = ListSectionsRequest { page_token: token, filter: "tube".to_owned(), ..angles };
    let status = service::sections(&other).unwrap_err();
    let refusal = fishplate_tests::refusal::Refusal::of(&status);
    assert_eq!(refusal.fields[0].0, "page_token", "{refusal:?}");
}
