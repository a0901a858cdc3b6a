//! The JSON Schema of the result, made from the types and their comments, so that it cannot say otherwise than they do.

use schemars::generate::SchemaSettings;
use serde_json::Value;

use super::CaseResult;

/// The JSON Schema (draft 2020-12) of what `--format json` prints.
#[must_use]
pub fn schema() -> Value {
    let generator = SchemaSettings::draft2020_12().for_serialize().into_generator();
    generator.into_root_schema_for::<CaseResult>().to_value()
}
