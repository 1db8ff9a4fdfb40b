//! The report for a build server: JUnit XML, a suite a project and a case a mount.

use fishplate_proto::v1::{BatchProjectReport, BatchReport, Change, MountChange, Verdict};
use quick_xml::events::{BytesDecl, BytesText, Event};
use quick_xml::writer::Writer;

use crate::terminal::{batch_words as words, clean};

/// The report as XML. It bears no times: the same results give the same bytes.
///
/// # Errors
/// What the writer refuses; writing to memory does not fail.
pub(crate) fn xml(report: &BatchReport) -> std::io::Result<String> {
    let mut writer = Writer::new_with_indent(Vec::new(), b' ', 2);
    writer.write_event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
    let all = report.projects.iter().map(Counts::of).fold(Counts::default(), Counts::plus);
    writer
        .create_element("testsuites")
        .with_attributes([("name", "fishplate")])
        .with_attributes(all.attributes().iter().map(|(n, v)| (*n, v.as_str())))
        .write_inner_content(|writer| {
            report.projects.iter().try_for_each(|project| suite(writer, project))
        })?;
    let mut bytes = writer.into_inner();
    bytes.push(b'\n');
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn suite(writer: &mut Writer<Vec<u8>>, project: &BatchProjectReport) -> std::io::Result<()> {
    let counts = Counts::of(project).attributes();
    let name = clean(&project.name);
    writer
        .create_element("testsuite")
        .with_attributes([("name", name.as_str())])
        .with_attributes(counts.iter().map(|(name, value)| (*name, value.as_str())))
        .write_inner_content(|writer| {
            if !project.faults.is_empty() {
                let faults: Vec<String> = project.faults.iter().map(words::fault).collect();
                case(writer, &name, "project", Some(("error", "cannot be checked", &faults)))?;
            }
            for mount in there(project) {
                one(writer, &name, mount)?;
            }
            Ok(())
        })?;
    Ok(())
}

fn one(writer: &mut Writer<Vec<u8>>, project: &str, mount: &MountChange) -> std::io::Result<()> {
    let said = words::mount(mount);
    let state = match mount.verdict() {
        Verdict::DoesNotHold => Some("failure"),
        Verdict::Provisional => Some("skipped"),
        Verdict::Holds | Verdict::Unspecified => None,
    };
    let what = state.map(|state| (state, said.as_str(), mount.newly_exceeding.as_slice()));
    case(writer, project, &words::name(mount), what)
}

/// A case, with what happened in it, a message and lines.
fn case(
    writer: &mut Writer<Vec<u8>>,
    project: &str,
    name: &str,
    what: Option<(&str, &str, &[String])>,
) -> std::io::Result<()> {
    let element = writer
        .create_element("testcase")
        .with_attributes([("classname", project), ("name", clean(name).as_str())]);
    let Some((state, message, lines)) = what else {
        element.write_empty()?;
        return Ok(());
    };
    let message = clean(message);
    element.write_inner_content(|writer| {
        let inner = writer.create_element(state).with_attributes([("message", message.as_str())]);
        if lines.is_empty() {
            inner.write_empty()?;
        } else {
            let text = lines.iter().map(|line| clean(line)).collect::<Vec<_>>().join("\n");
            inner.write_text_content(BytesText::new(&text))?;
        }
        Ok(())
    })?;
    Ok(())
}

/// What is there today: what is gone cannot fail.
fn there(project: &BatchProjectReport) -> impl Iterator<Item = &MountChange> {
    project.mounts.iter().filter(|mount| mount.change() != Change::Gone)
}

/// Cases of a suite.
#[derive(Debug, Clone, Copy, Default)]
struct Counts {
    tests: usize,
    failures: usize,
    errors: usize,
    skipped: usize,
}

impl Counts {
    fn of(project: &BatchProjectReport) -> Self {
        let count = |verdict| there(project).filter(|mount| mount.verdict() == verdict).count();
        let errors = usize::from(!project.faults.is_empty());
        Self {
            tests: there(project).count() + errors,
            failures: count(Verdict::DoesNotHold),
            errors,
            skipped: count(Verdict::Provisional),
        }
    }

    fn plus(self, other: Self) -> Self {
        Self {
            tests: self.tests + other.tests,
            failures: self.failures + other.failures,
            errors: self.errors + other.errors,
            skipped: self.skipped + other.skipped,
        }
    }

    fn attributes(self) -> [(&'static str, String); 4] {
        [
            ("tests", self.tests.to_string()),
            ("failures", self.failures.to_string()),
            ("errors", self.errors.to_string()),
            ("skipped", self.skipped.to_string()),
        ]
    }
}
