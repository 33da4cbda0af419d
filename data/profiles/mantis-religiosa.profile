# SPDX-License-Identifier: GPL-3.0-or-later
# European mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Mantis religiosa
common=European mantis
common_de=Europäische Gottesanbeterin
group=hardy

[clock]
t0=12
t0.from=ours
topt=28
topt.from=ours
tflat=30
tflat.from=ours
tmax=38
tmax.from=ours

[development]
stage_days=9;9;11;12;14;16;18
stage_days.from=practice;practice;practice;practice;practice;practice;ours
stage_days.note=Up to the sixth stage within the ranges that keepers use at 25–28 °C; the seventh is ours. Six moults take 79 days at 25 °C, 64 at 28 °C; Raut & Gaikwad 2016 found 61 days with six moults in a warm laboratory.
stage_days.note_de=Bis zum sechsten Stadium in den Spannen der Halter bei 25–28 °C; das siebte ist unseres. Sechs Häutungen dauern bei 25 °C 79, bei 28 °C 64 Tage; Raut & Gaikwad 2016 fanden 61 Tage bei sechs Häutungen in einem warmen Labor.
before_subadult_days=16
before_subadult_days.from=practice
subadult_days=22
subadult_days.from=practice
male_factor=1
male_factor.from=ours
moults_male=5:.30;6:.55;7:.15
moults_male.from=ours
moults_male.other=6:1
moults_male.other.from=measured:raut
moults_male.note=Six in one laboratory (India), eight stages in another (China), seven to nine in rearing kits: the spread is ours.
moults_male.note_de=Sechs in einem Labor (Indien), acht Stadien in einem anderen (China), sieben bis neun in Zuchtsets: Die Streuung ist unsere.
moults_female=6:.55;7:.35;8:.10
moults_female.from=ours
moults_female.other=6:1
moults_female.other.from=measured:raut
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
adult_male_mm=51.5
adult_male_mm.from=measured:newton
adult_male_mm.other=60
adult_male_mm.other.from=practice
adult_male_mm.note=47–56 mm measured in China; European care sheets say about 60 mm.
adult_male_mm.note_de=47–56 mm in China gemessen; europäische Blätter nennen etwa 60 mm.
adult_female_mm=58.5
adult_female_mm.from=measured:newton
adult_female_mm.other=75
adult_female_mm.other.from=practice
adult_female_mm.note=57–60 mm measured in China; European care sheets say about 75 mm.
adult_female_mm.note_de=57–60 mm in China gemessen; europäische Blätter nennen etwa 75 mm.
hatchling_mm=5.7
hatchling_mm.from=measured:newton
ratio_body=1.29
ratio_body.from=measured:faber
ratio_head=1.23
ratio_head.from=measured:newton
ratio_head.note=From L1 to L2: 1.60 ÷ 1.30 mm.
ratio_head.note_de=Von L1 zu L2: 1,60 ÷ 1,30 mm.

[sex]
male_prior=.5
male_prior.from=ours
readable_from=3
readable_from.from=practice
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
split_moults.note=Hungry hatchlings eat each other from the second day on.
split_moults.note_de=Hungrige Schlüpflinge fressen einander ab dem zweiten Tag.
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
receptive_male=10;40
receptive_male.from=practice
receptive_female=14;35
receptive_female.from=practice
life_male=30;90
life_male.from=practice
life_male.other=104;104
life_male.other.from=measured:raut
life_male.note=Keepers: one to three months; by difference 104 days in a laboratory in India.
life_male.note_de=Halter: ein bis drei Monate; als Differenz 104 Tage in einem Labor in Indien.
life_female=90;240
life_female.from=practice
life_female.other=135;135
life_female.other.from=measured:raut
life_female.note=Keepers: three to eight months; by difference 135 days in a laboratory in India.
life_female.note_de=Halter: drei bis acht Monate; als Differenz 135 Tage in einem Labor in Indien.

[eggs]
incubation=28;56
incubation.from=practice
young=100;300
young.from=practice
guards=false
rest=true

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
raut=Raut & Gaikwad 2016, J. Entomol. Zool. Stud. 4(6):478–482: nymph 61 d with six moults, whole life 196 d (females) and 165 d (males), so 135 and 104 d as adults (India, laboratory, warm)
newton=newton.com.tw/wiki/薄翅螳螂: body 57–60 mm (females), 47–56 mm (males), the middles are used; L1 body 5.70 mm; heads of L1 and L2 1.30 and 1.60 mm (China)
