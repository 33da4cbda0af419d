# SPDX-License-Identifier: GPL-3.0-or-later
# Chinese mantis.
# Stages are moults since hatch; days are at 25 °C. Tags: see DEVELOPERS.md.

[profile]
scientific=Tenodera sinensis
common=Chinese mantis
common_de=Chinesische Gottesanbeterin
group=hardy
parthenogenetic=true
parthenogenetic.from=measured:bragg

[clock]
# Two points of one study (25 and 28 °C) give 16.3 °C as an upper bound only; the
# group stands at 12.
t0=13
t0.from=ours
topt=28
topt.from=ours
tflat=30
tflat.from=ours
tmax=38
tmax.from=ours

[development]
# Scaled so that six stages (9 8 9 11 and the last two, 14 and 21) make the 72 days from
# hatch to adult at 25 °C of Moon et al. 2019 (71.9 d); the share of each stage is ours.
stage_days=9;8;9;11;13;15
stage_days.from=ours
before_subadult_days=14
before_subadult_days.from=ours
subadult_days=21
subadult_days.from=ours
male_factor=1
male_factor.from=ours
# Moon et al. 2019: five or six, six in about three of four animals, sexes not told
# apart; other laboratories count seven and eight stages. The table bridges both.
moults_male=5:.15;6:.60;7:.25
moults_male.from=ours
moults_female=5:.10;6:.50;7:.35;8:.05
moults_female.from=ours
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.19
sd_stage.from=ours

[size]
adult_male_mm=80
adult_male_mm.from=practice
adult_female_mm=95
adult_female_mm.from=practice
hatchling_mm=10
hatchling_mm.from=practice
ratio_body=1.28
ratio_body.from=ours
# Mean of the three ratios between the head widths 1.70, 2.10, 2.40, 2.90 mm.
ratio_head=1.195
ratio_head.from=measured:heads

[sex]
male_prior=.5
male_prior.from=ours
readable_from=3
readable_from.from=practice
tegmen_pronotum_male=2.55;.20
tegmen_pronotum_male.from=ours
tegmen_pronotum_female=2.0;.25
tegmen_pronotum_female.from=ours

[care]
feed_m0_1=1;2
feed_m0_1.from=practice
feed_m2_3=2;3
feed_m2_3.from=practice
feed_m4=3;4
feed_m4.from=practice
feed_adult_female=3;4
feed_adult_female.from=practice
feed_adult_male=4;6
feed_adult_male.from=practice
feed_gravid=1;2
feed_gravid.from=practice
mist=2;4
mist.from=practice
clean=7;8
clean.from=practice
touch_m3=1
touch_m3.from=practice
touch_m4=2
touch_m4.from=practice
touch_subadult=3
touch_subadult.from=practice
touch_adult=5
touch_adult.from=practice
food_m3=1;1
food_m3.from=practice
food_m4=1;2
food_m4.from=practice
food_subadult=2;2
food_subadult.from=practice
food_adult=3;3
food_adult.from=practice
subadult_fast_days=10
subadult_fast_days.from=practice
# Hungry hatchlings eat each other from the second day on.
split_moults=1
split_moults.from=practice
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=20;27
day.from=practice
night=15;20
night.from=practice
spot=-;-
spot.from=practice
look_above=34
look_above.from=practice
look_below=12
look_below.from=ours
humidity=40;60
humidity.from=practice

[adult]
life_male=30;90
life_male.from=practice
life_female=90;240
life_female.from=practice

[sources]
bragg=Bragg 2021, Parthenogenesis in mantids, mantodea.myspecies.info (facultative, very low hatch)
heads=head widths L1–L4 of T. aridifolia 1.70 2.10 2.40 2.90 mm, newton.com.tw/wiki/大刀螳螂/5828600; the ratio is computed from them
