"""Keeps everything that was written, for ever: domain objects in, domain objects out."""

from tuner.store.canonical import Plain, canonical_text, content_hash, document_text, text_hash
from tuner.store.cook_shelf import CookEntry
from tuner.store.proposal_shelf import ProposalEntry
from tuner.store.records import (
    Added,
    AuditEntry,
    KeptBrief,
    KeptCook,
    KeptDecision,
    KeptDevelopment,
    KeptMapping,
    KeptOven,
    KeptProposal,
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
    "KeptMapping",
    "KeptOven",
    "KeptProposal",
    "KeptState",
    "Origin",
    "Plain",
    "ProposalEntry",
    "Reading",
    "Stamp",
    "Store",
    "UnitOfWork",
    "WriteContext",
    "canonical_text",
    "content_hash",
    "document_text",
    "text_hash",
]
