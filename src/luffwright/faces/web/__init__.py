"""The page: for cockpit and classroom, served by the computer aboard, without internet."""
