"""Keeps everything that was written, for ever: domain objects in, domain objects out."""

from tuner.store.canonical import Plain, canonical_text, content_hash, document_text, text_hash
from tuner.store.cook_shelf import CookEntry
from tuner.store.file_shelf import file_hash
from tuner.store.proposal_shelf import ProposalEntry
from tuner.store.record_shelf import RecordEntry
from tuner.store.records import (
    Added,
    AuditEntry,
    KeptBrief,
    KeptCook,
    KeptDecision,
    KeptDevelopment,
    KeptFile,
    KeptMapping,
    KeptOven,
    KeptProposal,
    KeptRecord,
    KeptState,
    Origin,
    Stamp,
    WriteContext,
)
from tuner.store.store import Reading, Store, UnitOfWork

__all__ = [
    "Added",
    "AuditEntry",
    "CookEntry",
    "KeptBrief",
    "KeptCook",
    "KeptDecision",
    "KeptDevelopment",
    "KeptFile",
    "KeptMapping",
    "KeptOven",
    "KeptProposal",
    "KeptRecord",
    "KeptState",
    "Origin",
    "Plain",
    "ProposalEntry",
    "Reading",
    "RecordEntry",
    "Stamp",
    "Store",
    "UnitOfWork",
    "WriteContext",
    "canonical_text",
    "content_hash",
    "document_text",
    "file_hash",
    "text_hash",
]
