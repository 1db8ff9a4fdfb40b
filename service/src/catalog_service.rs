//! What the engine knows by name, page by page.

use std::sync::Arc;

use fishplate_proto::v1::catalog_service_server::CatalogService;
use fishplate_proto::v1::{
    CatalogEntry, ListFastenersRequest, ListFastenersResponse, ListFatigueDetailsRequest,
    ListFatigueDetailsResponse, ListMaterialsRequest, ListMaterialsResponse, ListSectionsRequest,
    ListSectionsResponse,
};
use fishplate_strength::catalog::{EntryKind, entries};
use tonic::{Request, Response, Status};

use crate::errors::Refusal;
use crate::from_proto::Reader;
use crate::from_proto::catalog::{self as read, Page};
use crate::to_proto::catalog::entry;
use crate::work::{Desk, Job};

/// The service.
#[derive(Debug)]
pub(crate) struct Catalog {
    desk: Arc<Desk>,
}

impl Catalog {
    pub(crate) fn new(desk: Arc<Desk>) -> Self {
        Self { desk }
    }
}

#[tonic::async_trait]
impl CatalogService for Catalog {
    async fn list_sections(
        &self,
        request: Request<ListSectionsRequest>,
    ) -> Result<Response<ListSectionsResponse>, Status> {
        let job = |request, job: &mut Job| {
            let (entries, next_page_token) =
                page(job, EntryKind::Section, |reader| read::sections(reader, request))?;
            Ok(ListSectionsResponse { entries, next_page_token })
        };
        self.desk.answer("ListSectionsRequest", request, job).await
    }

    async fn list_materials(
        &self,
        request: Request<ListMaterialsRequest>,
    ) -> Result<Response<ListMaterialsResponse>, Status> {
        let job = |request, job: &mut Job| {
            let (entries, next_page_token) =
                page(job, EntryKind::Material, |reader| read::materials(reader, request))?;
            Ok(ListMaterialsResponse { entries, next_page_token })
        };
        self.desk.answer("ListMaterialsRequest", request, job).await
    }

    async fn list_fasteners(
        &self,
        request: Request<ListFastenersRequest>,
    ) -> Result<Response<ListFastenersResponse>, Status> {
        let job = |request, job: &mut Job| {
            let (entries, next_page_token) =
                page(job, EntryKind::Fastener, |reader| read::fasteners(reader, request))?;
            Ok(ListFastenersResponse { entries, next_page_token })
        };
        self.desk.answer("ListFastenersRequest", request, job).await
    }

    async fn list_fatigue_details(
        &self,
        request: Request<ListFatigueDetailsRequest>,
    ) -> Result<Response<ListFatigueDetailsResponse>, Status> {
        let job = |request, job: &mut Job| {
            let (entries, next_page_token) =
                page(job, EntryKind::Fatigue, |reader| read::fatigue_details(reader, request))?;
            Ok(ListFatigueDetailsResponse { entries, next_page_token })
        };
        self.desk.answer("ListFatigueDetailsRequest", request, job).await
    }
}

/// The entries of a page, and the token of the next.
fn page(
    job: &mut Job,
    kind: EntryKind,
    read: impl FnOnce(&mut Reader) -> Page,
) -> Result<(Vec<CatalogEntry>, String), Refusal> {
    let page = job.sound(|reader| Some(read(reader)))?;
    let contains = |text: &str| text.to_lowercase().contains(&page.filter);
    let mut matching =
        entries(kind).into_iter().filter(|e| contains(&e.name) || contains(&e.family));
    let told = matching.by_ref().skip(page.from).take(page.size).map(entry).collect();
    let next = matching.next().map(|_| page.token(page.from + page.size));
    Ok((told, next.unwrap_or_default()))
}
