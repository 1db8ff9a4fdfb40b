//! Tests of the elements on their own and in small assemblies.
