"""What a strike beyond first yield leaves in post and plate."""
