//! Time of one whole check of the van through the in-process service: load cases on both sides,
//! every check, and every guess tried at both ends of its spread.
//!
//! `cargo bench -p fishplate-cli`

#![allow(missing_docs, clippy::unwrap_used)]

use criterion::{Criterion, criterion_group, criterion_main};
use fishplate_cli::project;
use fishplate_proto::v1::CheckProjectRequest;
use fishplate_proto::v1::check_service_client::CheckServiceClient;

fn van_check(c: &mut Criterion) {
    let runtime = tokio::runtime::Runtime::new().unwrap();
    let mut client = runtime.block_on(async {
        let channel = fishplate_service::in_process::connect().await.unwrap();
        CheckServiceClient::new(channel).max_decoding_message_size(64 << 20)
    });
    for name in ["van-a", "van-b", "van-c"] {
        let path = format!("{}/demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).unwrap();
        let project = project::read(&text).unwrap().project;
        for (what, with_derivations) in [("verdict", false), ("verdict and derivations", true)] {
            let request = CheckProjectRequest {
                project: Some(project.clone()),
                with_derivations,
                ..Default::default()
            };
            c.bench_function(&format!("{name}, {what}"), |b| {
                b.iter(|| runtime.block_on(client.check_project(request.clone())).unwrap());
            });
        }
    }
}

criterion_group!(benches, van_check);
criterion_main!(benches);
