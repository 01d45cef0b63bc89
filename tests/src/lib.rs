//! Only the test and bench targets of this package matter.
