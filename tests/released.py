"""What databases of released versions look like inside: rows as that version wrote them.

A version is named with its last migration. Written as SQL, because the tables of the code are
those of today.
"""

from __future__ import annotations

from sqlalchemy import Connection, text

# Every version that was released, with the revision of its tables, oldest first.
VERSIONS = {"0.1.0": "0001"}

BOAT = "019f0000-0000-7000-8000-000000000001"
DEVICE = "019f0000-0000-7000-8000-000000000002"
SERVER = "019f0000-0000-7000-8000-000000000003"
PHOTO = "ab" * 32
STAMP = "019f3a1b2c3d0000"
BODY = (
    '{"id": "%s", "device": "%s", "seq": %d, "stamp": "%s", "table": "%s", "key": "%s",'
    ' "set": {"name": "Ma\\u00dfband \\ud83d\\udd27", "of_later": 1.5}, "base": 0}'
)
VALUES = '{"name": "Ma\\u00dfband \\ud83d\\udd27", "of_later": 1.5}'
SIDE = '{"value": 1, "version": {"stamp": "%s", "device": "%s", "change": "%s", "cursor": 1}}'


def fill(connection: Connection) -> None:
    """Rows in every table of 0.1.0."""
    change = "019f0000-0000-7000-8000-0000000001%02d"
    side = SIDE % (STAMP, DEVICE, change % 1)
    versions = f'{{"name": ["{STAMP}", "{DEVICE}", "{change % 2}", 2]}}'
    for statement, row in [
        ("server VALUES (:a, :b, 1048600)", {"a": SERVER, "b": SERVER}),
        ("boat_counter VALUES (:a, 2, :b)", {"a": BOAT, "b": STAMP}),
        *(
            (
                (
                    "change (boat, cursor, id, device, seq, stamp, table_name, key, body,"
                    " received_ms, sent_by)"
                    " VALUES (:boat, :n, :id, :device, :n, :stamp, :t, :key, :body, 9, :device)"
                ),
                {
                    "boat": BOAT,
                    "n": n,
                    "id": change % n,
                    "device": DEVICE,
                    "stamp": STAMP,
                    "t": table,
                    "key": BOAT,
                    "body": BODY % (change % n, DEVICE, n, STAMP, table, BOAT),
                },
            )
            for n, table in ((1, "boat"), (2, "item"))
        ),
        *(
            (
                (
                    'record (boat, table_name, key, "values", versions, cursor)'
                    " VALUES (:boat, :t, :boat, :values, :versions, 2)"
                ),
                {"boat": BOAT, "t": table, "values": VALUES, "versions": versions},
            )
            for table in ("boat", "item")
        ),
        (
            (
                "clash (id, boat, table_name, key, field, kept, lost, cursor)"
                " VALUES (1, :boat, 'item', :boat, 'name', :side, :side, 2)"
            ),
            {"boat": BOAT, "side": side},
        ),
        ("device VALUES (:a, 'phone', :t, 1, 2, NULL)", {"a": DEVICE, "t": "cd" * 32}),
        ("pairing_code VALUES (:c, 9, 5)", {"c": "ef" * 32}),
        (
            "photo VALUES (:p, 'image/jpeg', 9, 4, 3, :no, 9, :d)",
            {"p": PHOTO, "no": False, "d": DEVICE},
        ),
        ("tag_block VALUES (:a, :b, 1048576, 24, 9, :d)", {"a": SERVER, "b": BOAT, "d": DEVICE}),
    ]:
        connection.execute(text(f"INSERT INTO {statement}"), row)


def contents(connection: Connection) -> dict[str, list[str]]:
    """All rows of the tables of 0.1.0, for comparing before and after."""
    tables = ("server", "boat_counter", "change", "record", "clash", "device", "photo", "tag_block")
    return {
        table: sorted(
            str(sorted(dict(row).items()))
            for row in connection.execute(text(f"SELECT * FROM {table}")).mappings()
        )
        for table in tables
    }
