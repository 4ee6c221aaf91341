"""Write the file of the newest schema into `released/`: run once when a schema is released.

python -m tests.store.keep_released
"""

from __future__ import annotations

import gzip
import sqlite3
import tempfile
from pathlib import Path

from tests.store.test_audit import fill
from tests.store.test_released import RELEASED
from tuner.store import Store
from tuner.store.migrating import HEAD


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "store.sqlite"
        store = Store.open(f"sqlite:///{path}")
        fill(store)
        store.close()
        clean = Path(folder) / "clean.sqlite"
        with sqlite3.connect(path) as connection:
            connection.execute("VACUUM INTO ?", (str(clean),))
        connection.close()
        (RELEASED / f"{HEAD}.sqlite.gz").write_bytes(gzip.compress(clean.read_bytes(), mtime=0))


if __name__ == "__main__":
    main()
