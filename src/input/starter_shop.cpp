#include "mendworth/shop.hpp"

namespace mendworth {

namespace {

constexpr const char* every_key =
    R"shop(# A shop for mendworth: how it charges and what it promises. Every figure here is invented: put in your own.
# Delete what does not matter: whatever is left out is not charged, or stands as the comments say.
# Money is in the shop's currency; shares, chances and taxes are fractions (20 % is 0.2). Where a comment says 'range',
# a number may be one: { low = 2, high = 6 } or { low = 2, likely = 4, high = 9 }.

[shop]
letterhead = ["Millrace Repairs", "4 Tannery Yard", "Open on weekdays"]  # at the head of the customer's page
currency = "EUR"               # ISO 4217 code; must be that of the case
licensed_for = ["mains"]       # hazard classes that the shop may work on; 'mendworth rates' lists them

[writing]                      # how numbers and days are written
decimal_mark = ","             # or "."
group_mark = "."               # between groups of three digits: "", ",", ".", " " or "'"
currency = "€"                 # otherwise the ISO 4217 code
currency_first = false         # 12,50 € and not € 12,50
date_form = "DD.MM.YYYY"       # YYYY, MM and DD with marks between

[labour]
charge_rate = 54               # an hour; otherwise the labour rate of the case
cost_rate = { low = 29, likely = 33, high = 40 }  # what an hour costs the shop (range); otherwise the case's rate
billing_increment_minutes = 15 # every one begun is charged; 0: minutes as they are
minimum_charge = 27            # least charge for the labour of a job

[[flat_rate]]                  # a fixed price for a known job, in place of its labour
name = "One station button renewed"  # * as the customer reads it
part = "button"                # * the name of the part in the case
positions = 1                  # how many of them
price = 49                     # *
parts_included = true          # the part, its shipping and consumables are in the price

[[flat_rate]]
name = "Two station buttons renewed"
part = "button"
positions = 2
price = 62
parts_included = true

[diagnosis]
fee = 25                       # for finding out what a repair takes
credited = true                # not charged if the job goes ahead
minutes = { low = 10, likely = 20, high = 40 }  # on the bench until the customer decides (range)
walk_away = { low = 0.1, high = 0.3 }  # share of customers who then do not go ahead (range)

[parts]
markup = [                     # price as a multiple of what a piece costs the shop; without it, parts at cost
  { cost_from = 0, times = 2.5 },
  { cost_from = 5, times = 1.6 },
  { cost_from = 40, times = 1.25 },
]
least_markup = 1               # least sum added to the cost of a line of parts
shipping = "spread"            # line: a line of its own, at cost; spread: over the pieces; shop: the shop bears it

[consumables]                  # solder, cleaner, foil; otherwise what the case expects
flat = 2.50                    # a job; or a share of labour instead:
# share = 0.05

[fees]
rush = 20                      # for a job before its turn; or a share of labour instead:
# rush_share = 0.5
collection = 15                # for fetching and bringing back

[discount]
share = 0.05                   # off labour, parts and consumables
name = "Opening discount"

[[tax]]                        # one after the other, in the order in which they build on each other
name = "VAT"                   # *
rate = 0.2                     # *
included = true                # prices hold it already; false: it is added to them
compound = false               # true: on the amounts and on the taxes before it
exempt = ["collection"]        # labour, parts, consumables, shipping, diagnosis, rush, collection, discount

[payment]
tax_by = "total"               # where a tax is rounded: total or line
cash_step = 0.05               # least coin: what is paid and deposited is rounded to it
deposit_share = 0.3            # of the payable sum
deposit_from = 100             # payable sum from which a deposit is asked
deposit_covers_parts = true    # at least what the parts and their shipping are charged at

[terms]
valid_days = 14                # how long the quote holds
warranty_days = 180            # on the work and on the parts it brought; 0: none
not_to_exceed = 0.1            # share above the total up to which no consent is asked; or instead:
# ceiling_confidence = 0.9     # the charge by time that holds in so many jobs
no_cure_no_fee = false         # nothing is charged if it cannot be repaired; or instead:
no_cure_charge = 20            # what is charged then; otherwise what declining costs
liability = 150                # paid by the shop if the device is lost on the bench
text = [                       # sentences for the customer
  "The warranty ends when somebody else opens the device.",
  "Old parts are kept for thirty days and then recycled.",
]

[workmanship]                  # for the shop's eyes only
come_back = { low = 0.01, likely = 0.02, high = 0.05 }  # chance that the work is complained of (range)
come_back_minutes = 30         # time that it then takes (range); otherwise an opening's

[margin]                       # for the shop's eyes only
target = 0.3                   # wanted share of the income

[subsidy]                      # paid to the shop by somebody else for the customer
name = "Town repair voucher"   # *
share = 0.5                    # * of the total, tax included
cap = 80                       # greatest sum
registered = false             # true: the shop takes part, and the bill says so
until = 2030-12-31             # last day
)shop";

}  // namespace

std::string starter_shop() { return every_key; }

}  // namespace mendworth
