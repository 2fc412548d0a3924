"""The database tables. Migrations make them; a test holds the two together.

Times are milliseconds since 1970. Values, versions and bodies are JSON, so that fields of newer
phones survive; nothing queries inside them.
"""

from __future__ import annotations

from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Column,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Text,
    UniqueConstraint,
)

# Every constraint has a name, so that later migrations can drop it on SQLite too.
db = SQLAlchemy(
    metadata=MetaData(
        naming_convention={
            "pk": "pk_%(table_name)s",
            "uq": "uq_%(table_name)s_%(column_0_name)s",
            "ix": "ix_%(column_0_label)s",
            "fk": "fk_%(table_name)s_%(column_0_name)s",
        }
    )
)

_UUID = String(36)
_DIGEST = String(64)
_STAMP = String(16)

# One row: which server this is, and the next number that a tag may carry. The epoch changes when
# the data is brought back from a backup, so that phones send again what the backup had not seen.
server = db.Table(
    "server",
    Column("id", _UUID, primary_key=True),
    Column("epoch", _UUID, nullable=False),
    Column("next_tag", Integer, nullable=False),
)

# The counter behind all cursors of a boat. Its row is locked before anything of the boat is
# written, so cursors come in the order of commits and without gaps. `stamp` is the highest yet.
boat_counter = db.Table(
    "boat_counter",
    Column("boat", _UUID, primary_key=True),
    Column("cursor", BigInteger, nullable=False),
    Column("stamp", _STAMP, nullable=False),
)

# Append only. `stamp` is the one that merges; the author's own stands in the body.
change = db.Table(
    "change",
    Column("boat", _UUID, ForeignKey("boat_counter.boat"), primary_key=True),
    Column("cursor", BigInteger, primary_key=True),
    Column("id", _UUID, nullable=False, unique=True),
    Column("device", _UUID, nullable=False),
    Column("seq", BigInteger, nullable=False),
    Column("stamp", _STAMP, nullable=False),
    Column("table_name", String(40), nullable=False),
    Column("key", String(64), nullable=False),
    Column("body", JSON, nullable=False),
    Column("received_ms", BigInteger, nullable=False),
    Column("sent_by", _UUID, nullable=False),
    UniqueConstraint("device", "seq", name="uq_change_device_seq"),
    Index("ix_change_record", "boat", "table_name", "key"),
)

# What the changes make of each record; could be made again from the log at any time.
record = db.Table(
    "record",
    Column("boat", _UUID, ForeignKey("boat_counter.boat"), primary_key=True),
    Column("table_name", String(40), primary_key=True),
    Column("key", String(64), primary_key=True),
    Column("values", JSON, nullable=False),
    Column("versions", JSON, nullable=False),
    Column("cursor", BigInteger, nullable=False),
)

clash = db.Table(
    "clash",
    Column("id", Integer, primary_key=True),
    Column("boat", _UUID, ForeignKey("boat_counter.boat"), nullable=False),
    Column("table_name", String(40), nullable=False),
    Column("key", String(64), nullable=False),
    Column("field", String(64), nullable=False),
    Column("kept", JSON, nullable=False),
    Column("lost", JSON, nullable=False),
    Column("cursor", BigInteger, nullable=False),
    Column("settled_cursor", BigInteger, nullable=True),
    Index("ix_clash_field", "boat", "table_name", "key", "field"),
)

# Only digests of tokens and codes are stored: a copy of the database lets nobody in.
device = db.Table(
    "device",
    Column("key", _UUID, primary_key=True),
    Column("name", String(200), nullable=False),
    Column("token_sha256", _DIGEST, nullable=False, unique=True),
    Column("paired_ms", BigInteger, nullable=False),
    Column("last_seen_ms", BigInteger, nullable=False),
    Column("revoked_ms", BigInteger, nullable=True),
)

pairing_code = db.Table(
    "pairing_code",
    Column("code_sha256", _DIGEST, primary_key=True),
    Column("expires_ms", BigInteger, nullable=False),
    Column("tries_left", Integer, nullable=False),
)

# Wrong codes of the last minutes: all processes of a server count together.
pairing_try = db.Table(
    "pairing_try",
    Column("id", Integer, primary_key=True),
    Column("address", String(64), nullable=False),
    Column("at_ms", BigInteger, nullable=False),
)

photo = db.Table(
    "photo",
    Column("sha256", _DIGEST, primary_key=True),
    Column("type", String(20), nullable=False),
    Column("bytes", BigInteger, nullable=False),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("has_position", Boolean, nullable=False),
    Column("kept_ms", BigInteger, nullable=False),
    Column("device", _UUID, nullable=False),
)

tag_block = db.Table(
    "tag_block",
    Column("id", _UUID, primary_key=True),
    Column("boat", _UUID, ForeignKey("boat_counter.boat"), nullable=False),
    Column("first", Integer, nullable=False),
    Column("count", Integer, nullable=False),
    Column("made_ms", BigInteger, nullable=False),
    Column("device", _UUID, nullable=False),
)

# The lists of handovers as they were when the waste left: written once, never again. `body` is the
# text that `digest` is of, byte for byte; `stamp` is that of the change that sealed it.
frozen = db.Table(
    "frozen",
    Column("boat", _UUID, ForeignKey("boat_counter.boat"), primary_key=True),
    Column("handover", String(64), primary_key=True),
    Column("digest", _DIGEST, nullable=False),
    Column("body", Text, nullable=False),
    Column("stamp", _STAMP, nullable=False),
    Column("cursor", BigInteger, nullable=False),
    Column("frozen_ms", BigInteger, nullable=False),
)

# How far each device has read, told by where it goes on reading. Only of the log of its epoch: a
# cursor of a log that was lost says nothing of this one.
reading_mark = db.Table(
    "reading_mark",
    Column("device", _UUID, primary_key=True),
    Column("boat", _UUID, ForeignKey("boat_counter.boat"), primary_key=True),
    Column("epoch", _UUID, nullable=False),
    Column("cursor", BigInteger, nullable=False),
    Column("noted_ms", BigInteger, nullable=False),
)
