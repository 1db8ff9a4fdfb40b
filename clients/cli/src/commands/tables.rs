//! `fishplate tables`.

use fishplate_proto::v1::catalog_service_client::CatalogServiceClient;
use fishplate_proto::v1::{
    CatalogEntry, ListFastenersRequest, ListFastenersResponse, ListFatigueDetailsRequest,
    ListFatigueDetailsResponse, ListMaterialsRequest, ListMaterialsResponse, ListSectionsRequest,
    ListSectionsResponse,
};
use tonic::Status;
use tonic::transport::Channel;

use super::{json, time};
use crate::Outcome;
use crate::args::{Table, TablesOptions};
use crate::connection::{connect, request, within};
use crate::failure::{Attempt, Failure};
use crate::terminal;

/// Entries asked for at once.
const PAGE: i32 = 500;

pub(super) async fn tables(options: &TablesOptions) -> Attempt<Outcome> {
    let channel = connect(options.common.server.as_deref()).await?;
    let entries = all(options, channel)
        .await
        .map_err(|status| Failure::from_status(&status, "the tables", None))?;
    let next_page_token = String::new();
    let text = if options.common.json {
        match options.table {
            Table::Sections => {
                json("ListSectionsResponse", &ListSectionsResponse { entries, next_page_token })?
            }
            Table::Materials => {
                json("ListMaterialsResponse", &ListMaterialsResponse { entries, next_page_token })?
            }
            Table::Fasteners => {
                json("ListFastenersResponse", &ListFastenersResponse { entries, next_page_token })?
            }
            Table::FatigueDetails => json(
                "ListFatigueDetailsResponse",
                &ListFatigueDetailsResponse { entries, next_page_token },
            )?,
        }
    } else if entries.is_empty() {
        format!("Nothing is known under \"{}\".\n", terminal::clean(&options.filter))
    } else {
        terminal::catalog(&entries, options.common.look())
    };
    Ok(Outcome { text, exit: 0 })
}

/// The entries of all pages.
async fn all(options: &TablesOptions, channel: Channel) -> Result<Vec<CatalogEntry>, Status> {
    let mut client = CatalogServiceClient::new(channel);
    let wait = time(&options.common);
    let mut entries = Vec::new();
    let mut page_token = String::new();
    loop {
        let filter = options.filter.clone();
        let (more, next) = match options.table {
            Table::Sections => {
                let asked = ListSectionsRequest { page_size: PAGE, page_token, filter };
                let page = within(wait, client.list_sections(request(asked, wait))).await?;
                (page.entries, page.next_page_token)
            }
            Table::Materials => {
                let asked = ListMaterialsRequest { page_size: PAGE, page_token, filter };
                let page = within(wait, client.list_materials(request(asked, wait))).await?;
                (page.entries, page.next_page_token)
            }
            Table::Fasteners => {
                let asked = ListFastenersRequest { page_size: PAGE, page_token, filter };
                let page = within(wait, client.list_fasteners(request(asked, wait))).await?;
                (page.entries, page.next_page_token)
            }
            Table::FatigueDetails => {
                let asked = ListFatigueDetailsRequest { page_size: PAGE, page_token, filter };
                let page = within(wait, client.list_fatigue_details(request(asked, wait))).await?;
                (page.entries, page.next_page_token)
            }
        };
        // An empty page with a token would go round for ever.
        let ends = next.is_empty() || more.is_empty();
        entries.extend(more);
        if ends {
            return Ok(entries);
        }
        page_token = next;
    }
}
