# SPDX-License-Identifier: GPL-3.0-or-later
# Chinese mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Tenodera sinensis
common=Chinese mantis
common_de=Chinesische Gottesanbeterin
group=hardy
parthenogenetic=true
parthenogenetic.from=measured:bragg

[clock]
t0=13
t0.from=ours
t0.note=Two points of one study (25 and 28 °C) give 16.3 °C as an upper bound only; the group stands at 12.
t0.note_de=Zwei Punkte einer Studie (25 und 28 °C) geben 16,3 °C nur als obere Grenze; die Gruppe steht bei 12.
topt=28
topt.from=ours
tflat=30
tflat.from=ours
tmax=38
tmax.from=ours

[development]
stage_days=9;8;9;11;13;15
stage_days.from=ours
stage_days.note=Scaled so that six stages (9, 8, 9, 11 and the last two, 14 and 21) make the 71.9 days from hatch to adult at 25 °C of Moon et al. 2019; the share of each stage is ours.
stage_days.note_de=So gestreckt, dass sechs Stadien (9, 8, 9, 11 und die letzten zwei, 14 und 21) die 71,9 Tage vom Schlupf bis zum Ende bei 25 °C von Moon u. a. 2019 ergeben; der Anteil jedes Stadiums ist unserer.
before_subadult_days=14
before_subadult_days.from=ours
subadult_days=21
subadult_days.from=practice
male_factor=1
male_factor.from=ours
moults_male=5:.15;6:.60;7:.25
moults_male.from=ours
moults_male.other=5:.25;6:.75
moults_male.other.from=measured:moon
moults_male.note=Moon et al. 2019: five or six, six in about three of four, sexes not told apart; other laboratories count seven and eight stages. The table bridges both.
moults_male.note_de=Moon u. a. 2019: fünf oder sechs, sechs bei etwa drei von vier, Geschlechter nicht getrennt; andere Labore zählen sieben und acht Stadien. Die Tafel überbrückt beides.
moults_female=5:.10;6:.50;7:.35;8:.05
moults_female.from=ours
moults_female.other=5:.25;6:.75
moults_female.other.from=measured:moon
moults_female.note=As for males; females take one more oftener.
moults_female.note_de=Wie bei Männchen; Weibchen brauchen öfter eine mehr.
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
adult_female_mm.other=100
adult_female_mm.other.from=measured:newton
adult_female_mm.note=77–105 mm in one encyclopaedia, 80–120 mm in another.
adult_female_mm.note_de=77–105 mm in einer Enzyklopädie, 80–120 mm in einer anderen.
hatchling_mm=10
hatchling_mm.from=practice
ratio_body=1.29
ratio_body.from=measured:faber
ratio_head=1.195
ratio_head.from=measured:heads
ratio_head.note=Mean of the three ratios between the head widths 1.70, 2.10, 2.40, 2.90 mm.
ratio_head.note_de=Mittel der drei Verhältnisse zwischen den Kopfbreiten 1,70, 2,10, 2,40, 2,90 mm.

[sex]
male_prior=.5
male_prior.from=ours
readable_from=3
readable_from.from=practice
readable_from.other=2
readable_from.other.from=practice
readable_from.note=From L4; big hatchlings from L3.
readable_from.note_de=Ab L4; große Schlüpflinge ab L3.
plates_male=8
plates_male.from=practice
plates_female=6
plates_female.from=practice
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
split_moults=1
split_moults.from=practice
split_moults.other=2
split_moults.other.from=practice
split_moults.note=Hungry hatchlings eat each other from the second day on; some part them at L2–L3.
split_moults.note_de=Hungrige Schlüpflinge fressen einander ab dem zweiten Tag; manche trennen bei L2–L3.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=20;27
day.from=practice
day.other=28;30
day.other.from=measured:moon
day.note=Keepers of temperate kinds: 20–27 °C; a rearing study: fastest at 28–30 °C.
day.note_de=Halter gemäßigter Arten: 20–27 °C; eine Zuchtstudie: am schnellsten bei 28–30 °C.
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
receptive_male=10;40
receptive_male.from=practice
receptive_female=14;35
receptive_female.from=practice
life_male=30;90
life_male.from=practice
life_female=90;240
life_female.from=practice
life_female.other=82;82
life_female.other.from=measured:moon
life_female.note=Keepers: three to eight months; Moon et al. 2019: 82 days in the laboratory.
life_female.note_de=Halter: drei bis acht Monate; Moon u. a. 2019: 82 Tage im Labor.

[eggs]
incubation=21;70
incubation.from=practice
young=100;400
young.from=practice
guards=false
rest=true
rest.note=A warm house may let it hatch in winter without a rest.
rest.note_de=In der warmen Wohnung kann sie ohne Ruhe im Winter schlüpfen.

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
moon=Moon et al. 2019, Jeonbuk ARES, koreascience.kr/article/JAKO201914456459614.page: hatch to adult 71.9 d at 25 °C and 53.5 d at 28 °C, five or six moults, six in 73.5–77.3 %, adult female life 82 d, fastest at 28–30 °C (T. aridifolia, elsewhere called T. sinensis)
newton=body length of females 80–120 mm, middle 100, newton.com.tw/wiki/大刀螳螂/5828600 (T. aridifolia, China)
heads=head widths L1–L4 of T. aridifolia 1.70 2.10 2.40 2.90 mm, newton.com.tw/wiki/大刀螳螂/5828600; the ratio is computed from them
bragg=Bragg 2021, Parthenogenesis in mantids, mantodea.myspecies.info (facultative, very low hatch)
