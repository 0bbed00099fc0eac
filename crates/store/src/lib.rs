//! The only room that speaks SQL: one file on disk, one transaction per act, migrations.
