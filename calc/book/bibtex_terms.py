"""What BibTeX and CSL-JSON call the same things."""

from __future__ import annotations

TYPES = {
    "article": "article-journal",
    "book": "book",
    "booklet": "pamphlet",
    "conference": "paper-conference",
    "dataset": "dataset",
    "inbook": "chapter",
    "incollection": "chapter",
    "inproceedings": "paper-conference",
    "manual": "document",
    "mastersthesis": "thesis",
    "misc": "document",
    "online": "webpage",
    "patent": "patent",
    "phdthesis": "thesis",
    "proceedings": "book",
    "report": "report",
    "software": "software",
    "standard": "standard",
    "techreport": "report",
    "thesis": "thesis",
    "unpublished": "manuscript",
}
"""Kinds of entry that are read, and the type of work that each is."""

KINDS = {
    "article-journal": "article",
    "article-magazine": "article",
    "article-newspaper": "article",
    "book": "book",
    "chapter": "incollection",
    "dataset": "dataset",
    "manuscript": "unpublished",
    "paper-conference": "inproceedings",
    "pamphlet": "booklet",
    "patent": "patent",
    "report": "report",
    "software": "software",
    "standard": "standard",
    "thesis": "thesis",
    "webpage": "online",
}
"""Types of work, and the kind of entry that each is written as; any other is misc."""

FIELDS = {
    "title": ("title",),
    "container-title": ("journal", "journaltitle", "booktitle"),
    "collection-title": ("series",),
    "publisher": ("publisher", "institution", "school", "organization"),
    "publisher-place": ("address", "location"),
    "volume": ("volume",),
    "issue": ("issue",),
    "page": ("pages",),
    "number": ("number",),
    "DOI": ("doi",),
    "URL": ("url",),
    "ISBN": ("isbn",),
    "ISSN": ("issn",),
    "abstract": ("abstract",),
    "genre": ("type",),
    "note": ("note",),
    "edition": ("edition",),
    "event-title": ("eventtitle",),
    "version": ("version",),
    "language": ("language",),
    "keyword": ("keywords",),
    "medium": ("howpublished",),
}
"""Names of CSL-JSON, and the fields of BibTeX that mean the same, the first one written."""
