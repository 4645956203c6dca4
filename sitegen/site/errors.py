"""What can keep an edition from being published, each kind with its exit status.

    SiteError
      AddressError   1  an address of the edition cannot be a file of a site
      RefusedError   2  the folder asked for is not ours to write in
      MachineError   3  the machine failed us: disk, permissions, a folder that vanished
        ShelfChangedError  records kept beside the site are not those that were read; a build that reads all files anew can go on

Every message is one or more plain sentences for the person at the terminal.
"""

from __future__ import annotations


class SiteError(Exception):
    """An edition was not published, or not to its end; the text says what stands now."""

    exit_status = 1


class AddressError(SiteError):
    """An address cannot be a file of a site, or two addresses cannot be files of the same site."""

    exit_status = 1


class RefusedError(SiteError):
    """The folder is not one this program may write in; nothing was touched."""

    exit_status = 2


class MachineError(SiteError):
    """The machine failed; the text says whether the site is as it was or partly brought up to date."""

    exit_status = 3


class ShelfChangedError(MachineError):
    """Records kept beside the site are damaged, or somebody changed them meanwhile. Nothing is published by then."""
