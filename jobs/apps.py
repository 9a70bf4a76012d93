"""Commissions, from enquiry to hand-over."""

from django.apps import AppConfig


class JobsConfig(AppConfig):
    """Label ``jobs``."""

    name = "jobs"
    verbose_name = "Commissions"

    def ready(self) -> None:
        """Say who does this app's background work."""
        from jobs.services.model_work import bring_up_to_date
        from jobs.services.models import KIND
        from jobs.services.packs import KIND as PACK
        from jobs.services.plan_work import work_out_plan
        from jobs.services.plans import KIND as PLAN
        from jobs.sheets.packing import print_pack
        from studio.tasks.kinds import register

        register(KIND, bring_up_to_date)
        register(PLAN, work_out_plan)
        register(PACK, print_pack)
