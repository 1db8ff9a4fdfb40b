//! Canonical protobuf JSON of any message of the contract.

use std::sync::OnceLock;

use prost_reflect::{DescriptorPool, DynamicMessage, SerializeOptions};

use crate::FILE_DESCRIPTOR_SET;

/// Why a message could not be turned to or from JSON.
#[derive(Debug, thiserror::Error)]
pub enum JsonError {
    /// The name is not a message of the contract.
    #[error("{0} is not a message of fishplate.v1")]
    UnknownMessage(String),
    /// The message does not fit its descriptor.
    #[error("the message does not fit its descriptor: {0}")]
    Transcode(String),
    /// The text is not the JSON of that message.
    #[error("{0}")]
    Text(#[from] serde_json::Error),
}

fn pool() -> &'static DescriptorPool {
    static POOL: OnceLock<DescriptorPool> = OnceLock::new();
    POOL.get_or_init(|| {
        DescriptorPool::decode(FILE_DESCRIPTOR_SET)
            .expect("the build script wrote a valid descriptor set")
    })
}

/// The canonical JSON of `message`, which is `name` in package `fishplate.v1`. Fields with their
/// default value are left out, as the mapping prescribes.
///
/// # Errors
/// [`JsonError::UnknownMessage`] for a name that is not in the contract.
pub fn to_json(name: &str, message: &impl prost::Message) -> Result<String, JsonError> {
    let full = format!("fishplate.v1.{name}");
    let descriptor =
        pool().get_message_by_name(&full).ok_or_else(|| JsonError::UnknownMessage(full))?;
    let mut dynamic = DynamicMessage::new(descriptor);
    dynamic.transcode_from(message).map_err(|e| JsonError::Transcode(e.to_string()))?;
    let mut out = Vec::new();
    let mut serializer = serde_json::Serializer::pretty(&mut out);
    dynamic.serialize_with_options(&mut serializer, &SerializeOptions::new())?;
    Ok(String::from_utf8_lossy(&out).into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::v1;

    #[test]
    fn a_message_becomes_lower_camel_json() {
        let length = v1::Length { value_mm: 4.0, guessed: true, ..Default::default() };
        let text = to_json("Length", &length).unwrap();
        assert!(text.contains("\"valueMm\": 4"), "{text}");
        assert!(text.contains("\"guessed\": true"), "{text}");
    }

    #[test]
    fn an_unknown_message_is_named() {
        let error = to_json("Nothing", &v1::Length::default()).unwrap_err().to_string();
        assert!(error.contains("fishplate.v1.Nothing"), "{error}");
    }
}
