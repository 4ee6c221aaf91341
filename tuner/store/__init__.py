"""Everything kept: tables, repositories, unit of work, migrations."""
