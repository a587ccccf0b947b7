"""Whether anybody could sign in: what must be true before the workbench may be reached from other machines."""


def accounts_exist() -> bool:
    """Whether at least one account with a password is kept. There is no sign-in yet, so there is none."""
    return False
