//! Canonical protobuf JSON of any message of the contract.

use std::sync::OnceLock;

use prost_reflect::{
    DescriptorPool, DeserializeOptions, DynamicMessage, MessageDescriptor, SerializeOptions,
};

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

/// The descriptors of every file.
pub(crate) fn pool() -> &'static DescriptorPool {
    static POOL: OnceLock<DescriptorPool> = OnceLock::new();
    POOL.get_or_init(|| {
        DescriptorPool::decode(FILE_DESCRIPTOR_SET)
            .expect("the build script wrote a valid descriptor set")
    })
}

pub(crate) fn descriptor(name: &str) -> Result<MessageDescriptor, JsonError> {
    let full = format!("fishplate.v1.{name}");
    pool().get_message_by_name(&full).ok_or(JsonError::UnknownMessage(full))
}

/// The canonical JSON of `message`, which is `name` in package `fishplate.v1`. Fields with their
/// default value are left out, as the mapping prescribes.
///
/// # Errors
/// [`JsonError::UnknownMessage`] for a name that is not in the contract.
pub fn to_json(name: &str, message: &impl prost::Message) -> Result<String, JsonError> {
    let mut dynamic = DynamicMessage::new(descriptor(name)?);
    dynamic.transcode_from(message).map_err(|e| JsonError::Transcode(e.to_string()))?;
    let mut out = Vec::new();
    let mut serializer = serde_json::Serializer::pretty(&mut out);
    dynamic.serialize_with_options(&mut serializer, &SerializeOptions::new())?;
    Ok(String::from_utf8_lossy(&out).into_owned())
}

/// The message `name` of package `fishplate.v1` from its canonical JSON. A field that the message
/// does not have is refused: it would be a misspelt one.
///
/// # Errors
/// [`JsonError::Text`] with line and column for text that is not the JSON of that message,
/// [`JsonError::UnknownMessage`] for a name that is not in the contract.
pub fn from_json<M: prost::Message + Default>(name: &str, text: &str) -> Result<M, JsonError> {
    let mut deserializer = serde_json::Deserializer::from_str(text);
    let options = DeserializeOptions::new().deny_unknown_fields(true);
    let dynamic =
        DynamicMessage::deserialize_with_options(descriptor(name)?, &mut deserializer, &options)?;
    deserializer.end()?;
    dynamic.transcode_to().map_err(|e| JsonError::Transcode(e.to_string()))
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

    #[test]
    fn json_is_read_back_and_a_misspelt_field_is_refused() {
        let length: v1::Length =
            from_json("Length", "{\"valueMm\": 4.5, \"guessed\": true}").unwrap();
        assert!(length.guessed && (length.value_mm - 4.5).abs() < 1e-12);
        let error = from_json::<v1::Length>("Length", "{\n \"valeMm\": 4}").unwrap_err();
        let text = error.to_string();
        assert!(text.contains("valeMm") && text.contains("line 2"), "{text}");
        assert!(from_json::<v1::Length>("Length", "{} x").is_err());
        assert!(from_json::<v1::Length>("Length", "").is_err());
    }
}
